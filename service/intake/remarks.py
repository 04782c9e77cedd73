"""What is told of single rows and columns of a table: a code with its names, and the sentence of both."""

from collections.abc import Mapping
from typing import Any, Final

EMPTY_ROW, ABOVE_HEADING, SEPARATOR_ROW = "empty-row", "above-heading", "separator-row"
BLANK_ROW, BLANK_COLUMN = "blank-row", "blank-column"
SUMMED_ROW: Final = {"sum": "row-of-sums", "mean": "row-of-means"}
SUMMED_COLUMN: Final = {"sum": "column-of-sums", "mean": "column-of-means"}
SKIPPED: Final[Mapping[str, str]] = {
    EMPTY_ROW: "the row is empty",
    ABOVE_HEADING: "the line stands above the heading",
    SEPARATOR_ROW: "the line names the separator",
    BLANK_ROW: "the row has no reading: the channel was not scanned",
    BLANK_COLUMN: "the column {column} has no reading: the run was not scanned",
    "row-of-sums": "the row is the sum of the others",
    "row-of-means": "the row is the mean of the others",
    "column-of-sums": "the column {column} is the sum of the others",
    "column-of-means": "the column {column} is the mean of the others",
}
"""Why a row or column was skipped, by code."""
COLUMN, RUN, NOT_READ = "column", "run", "not-read"
READ_AS: Final[Mapping[str, str]] = {
    COLUMN: "{column}",
    RUN: "{element}, round {round}",
    NOT_READ: "not read",
}
"""What a heading was taken for, by code; `column` is one of those of the long form."""


def skipped(row: int, code: str, **evidence: object) -> dict[str, Any]:
    """A row that was skipped, or one of the heading's columns; KeyError for a code without a sentence."""
    return {"row": row, "why": SKIPPED[code].format(**evidence), "code": code, "evidence": evidence}


def read_as(heading: str, code: str, *, unit: str | None, **evidence: object) -> dict[str, Any]:
    """What a heading was taken for, with its unit where it names one; KeyError for another code."""
    text = READ_AS[code].format(**evidence)
    if unit is not None:
        text, evidence = f"{text}, in {unit}", {**evidence, "unit": unit}
    return {"heading": heading, "read_as": text, "code": code, "evidence": evidence}
