"""The commands against a stand-in service: what they send, print, leave and refuse."""

import pytest
from click.testing import CliRunner

from service.client import commands
from service.client.commands import verdict

TABLE = "element,round,channel,value\n"


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "r.csv").write_text(TABLE)
    (tmp_path / "t.json").write_text("{}")
    return tmp_path


@pytest.fixture
def run(service, monkeypatch, folder):  # noqa: ARG001 (the commands run in that folder)
    monkeypatch.setattr(commands, "say_verdict", lambda document: print(f"says {document['format']}"))
    return lambda *arguments: CliRunner().invoke(verdict, arguments, obj=service.create_app)


def test_the_fields_are_sent_under_their_names_as_they_were_given(run, service):
    result = run("r.csv", "--unit", "bars", "--planned-rounds", "six", "--nothing-found", "-,n/a")
    assert result.exit_code == 0, result.output
    (asked,) = service.asked
    assert asked["query"] == {
        "unit": "bars",
        "planned_rounds": "six",
        "nothing_found": "-,n/a",
        "form": "json",
    }
    assert (asked["type"], asked["body"]) == ("text/csv", TABLE.encode())
    assert result.stdout == "says analysis/1\n"


def test_json_prints_the_document_and_nothing_else(run, service):
    result = run("r.csv", "--unit", "bars", "--json", "--report", "v.html")
    assert result.stdout == service.body.decode() + "\n"
    assert result.stderr == ""


def test_reports_are_asked_for_by_their_ending_and_left(run, service, folder):
    result = run("r.csv", "--trial", "t.json", "--report", "v.html", "--report", "V.PDF", "--paper", "letter")
    assert [asked["query"] for asked in service.asked] == [
        {"form": form, "paper": "letter"} for form in ("json", "html", "pdf")
    ]
    assert (folder / "v.html").read_bytes() == (folder / "V.PDF").read_bytes() == service.body
    assert result.stdout.splitlines()[-1] == "Report left in v.html and V.PDF."


def test_tables_and_a_summary_are_reports_too(run, service, folder):
    run("r.csv", "--trial", "t.json", "--report", "v.csv", "--report", "v.txt", "--locale", "en-DE")
    assert [asked["query"] for asked in service.asked] == [
        {"form": form, "locale": "en-DE"} for form in ("json", "csv", "summary")
    ]
    assert (folder / "v.csv").read_bytes() == (folder / "v.txt").read_bytes() == service.body


def test_a_picture_is_asked_for_by_its_ending_and_its_shape_goes_along(run, service, folder):
    run("r.csv", "--trial", "t.json", "--report", "v.png", "--shape", "square")
    assert [asked["query"] for asked in service.asked] == [
        {"form": form, "shape": "square"} for form in ("json", "card")
    ]
    assert (folder / "v.png").read_bytes() == service.body


def test_bad_input_goes_to_standard_error_place_by_place_with_status_3(run, service):
    service.problem(errors=[{"row": 2, "column": "value", "given": "7/10", "detail": "a number"}], count=1)
    result = run("r.csv", "--unit", "bars", "--report", "v.html")
    assert result.exit_code == 3
    assert result.stdout == ""
    assert result.stderr.splitlines()[1] == '  r.csv line 2, column value: given "7/10": a number'


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["r.csv", "--report", "v.docx"], ".html, .pdf"),
        (["r.csv", "--report", "nowhere/v.pdf"], "no folder"),
        (["r.csv", "--report", "./r.csv"], "r.csv is what is read here"),
        (["gone.csv"], "cannot be read"),
        (["r.csv", "--server", "nonsense"], "No service answers"),
    ],
)
def test_what_cannot_be_done_is_said_before_anything_is_asked(run, service, arguments, said):
    result = run(*arguments)
    assert result.exit_code == 3
    assert said in result.stderr
    assert service.asked == []


def test_a_report_that_cannot_be_written_is_told_after_the_verdict(run, folder):
    (folder / "v.html").mkdir()
    result = run("r.csv", "--report", "v.html")
    assert result.exit_code == 3
    assert result.stdout == "says analysis/1\n"
    assert "v.html cannot be written" in result.stderr


def test_no_file_is_a_usage_error(run):
    assert "Missing argument" in run().stderr
