"""Text, colour and progress: only where they belong."""

import io
from contextlib import nullcontext

import click
import pytest

from service.client import output

GREEN = click.style("clear winner", fg="green", bold=True)


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize(("value", "wanted"), [(None, None), ("", None), ("1", False)])
def test_no_color_is_obeyed(monkeypatch, value, wanted):
    if value is None:
        monkeypatch.delenv("NO_COLOR", raising=False)
    else:
        monkeypatch.setenv("NO_COLOR", value)
    assert output.colour() is wanted


def test_colour_stays_on_terminals(capsys, monkeypatch):
    document = {"verdict": {"outcome": "clear winner"}}
    monkeypatch.setattr("reports.text.terminal_lines", lambda _document: ("A is best.", "", "1. A"))
    plain = "Verdict: clear winner\nA is best.\n\n1. A\n"
    output.say_verdict(document)
    assert capsys.readouterr().out == plain
    for no_color, shown in (("", plain.replace("clear winner", GREEN)), ("1", plain)):
        monkeypatch.setenv("NO_COLOR", no_color)
        monkeypatch.setattr("sys.stdout", Terminal())
        output.say_verdict(document)
        assert output.sys.stdout.getvalue() == shown


def test_lines_are_broken_between_words_on_a_terminal_only(capsys, monkeypatch):
    line = "1. Run about 5 more rounds,  perhaps 9."
    output.say([line, ""])
    assert capsys.readouterr().out == line + "\n\n"
    monkeypatch.setenv("COLUMNS", "20")
    monkeypatch.setattr("sys.stdout", Terminal())
    output.say([line, "Nothing is settled yet."])
    broken = "1. Run about 5 more\n   rounds,  perhaps\n   9.\nNothing is settled\nyet.\n"
    assert output.sys.stdout.getvalue() == broken


def test_progress_shows_on_a_terminal_only(monkeypatch):
    for stream, shown in ((io.StringIO(), False), (Terminal(), True)):
        monkeypatch.setattr("sys.stderr", stream)
        assert isinstance(output.working("it"), nullcontext) is not shown
        with output.working("Judging the readings"):
            pass
        assert ("Judging" in stream.getvalue()) is shown
