"""What a command leaves: text on the terminal, reports in files, progress while it works."""

import os
import sys
from collections.abc import Iterable, Mapping, Sequence
from contextlib import AbstractContextManager, nullcontext
from pathlib import Path
from shutil import get_terminal_size
from textwrap import wrap
from typing import Any

import click

from service.client.trouble import Trouble, printable

COLOURS: Mapping[str, str] = {"clear winner": "green", "within noise": "cyan", "needs more runs": "yellow"}
REPORT_FORMS: Mapping[str, str] = {
    ".html": "html",
    ".pdf": "pdf",
    ".png": "card",
    ".md": "markdown",
    ".xml": "junit",
    ".csv": "csv",
    ".txt": "summary",
}
ENDINGS: Mapping[str, str] = {form: ending for ending, form in REPORT_FORMS.items()}


def say(lines: Iterable[str]) -> None:
    """Print the lines on standard output; on a terminal, broken between words at its width."""
    width = get_terminal_size().columns if sys.stdout.isatty() else sys.maxsize
    for line in lines:
        indent = "   " if line[:1].isdigit() else ""
        click.echo("\n".join(wrap(printable(line), width, subsequent_indent=indent)))


def say_verdict(document: Mapping[str, Any]) -> None:
    """Print what the analysis document says: outcome, sentence, ranking, what to do next."""
    from reports.text import terminal_lines

    outcome = document["verdict"]["outcome"]
    click.echo(
        f"Verdict: {click.style(printable(outcome), fg=COLOURS.get(outcome), bold=True)}", color=colour()
    )
    say(terminal_lines(document))


def colour() -> bool | None:
    """False where the user wants no colour (no-color.org); else None: only on a terminal."""
    return False if os.environ.get("NO_COLOR") else None


def working(on: str) -> AbstractContextManager[Any]:
    """Show on standard error that work goes on, if that is a terminal."""
    if not sys.stderr.isatty():
        return nullcontext()
    from rich.console import Console

    return Console(stderr=True).status(on)


def check_report_files(files: Sequence[Path], *, read: Sequence[Path] = ()) -> None:
    """Raise Trouble where a report could not be made or put, before any work is done.

    `read` are the files that the report is on: none of them is written over.
    """
    kept = {file.resolve() for file in read}
    for file in files:
        if file.resolve() in kept:
            raise Trouble(f"{file} is what is read here. Give the report another name.")
        if file.suffix.lower() not in REPORT_FORMS:
            raise Trouble(f"What {file} is to be is told by its ending; known are {', '.join(REPORT_FORMS)}.")
        if not file.absolute().parent.is_dir():
            raise Trouble(f"There is no folder {file.absolute().parent} to put {file.name} in.")


def report_form(file: Path) -> str:
    """The form that the file's ending names."""
    return REPORT_FORMS[file.suffix.lower()]


def leave(file: Path, report: bytes) -> None:
    """Write the report. Raises Trouble where that fails."""
    try:
        file.write_bytes(report)
    except OSError as error:
        raise Trouble(f"{file} cannot be written: {error.strerror or error}.") from error


def give(content: bytes, form: str, output: Path | None) -> None:
    """Leave an answer in a file, else print it: text as lines, any other form as it is."""
    if output is not None:
        leave(output, content)
        click.echo(f"Left in {printable(str(output))}.", err=True)
    elif form == "text":
        say(content.decode("utf-8").splitlines())
    else:
        click.echo(content, nl=not content.endswith(b"\n"))
