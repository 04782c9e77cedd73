"""What the service remarks on single rows and columns of a file, worded from the codes of the document."""

from collections.abc import Mapping
from typing import Final

from reports import document as doc
from reports.language import marked, say

SKIPPED: Final[Mapping[str, str]] = {
    "empty-row": marked("the row is empty"),
    "above-heading": marked("the line stands above the heading"),
    "separator-row": marked("the line names the separator"),
    "blank-row": marked("the row has no reading: the channel was not scanned"),
    "blank-column": marked("the column {column} has no reading: the run was not scanned"),
    "row-of-sums": marked("the row is the sum of the others"),
    "row-of-means": marked("the row is the mean of the others"),
    "column-of-sums": marked("the column {column} is the sum of the others"),
    "column-of-means": marked("the column {column} is the mean of the others"),
}
READ_AS: Final[Mapping[str, str]] = {
    "run": marked("{element}, round {round}"),
    "not-read": marked("not read"),
}
COLUMN: Final = "column"
"""A heading of the long form: named as programs write it, in every language."""


def skipped(entry: doc.Entry) -> str:
    """Why a row or column was skipped; the entry's own English where it has no code that is known."""
    message = SKIPPED.get(entry.get("code", ""))
    return doc.clean(entry["why"]) if message is None else say(message, **_names(entry))


def read_as(entry: doc.Entry) -> str:
    """What a heading was taken for; the entry's own English where it has no code that is known."""
    code = entry.get("code", "")
    if code != COLUMN and code not in READ_AS:
        return doc.clean(entry["read_as"])
    names = _names(entry)
    taken = names["column"] if code == COLUMN else say(READ_AS[code], **names)
    return say("{column}, in {unit}", column=taken, unit=names["unit"]) if "unit" in names else taken


def _names(entry: doc.Entry) -> dict[str, str]:
    return {name: doc.clean(value) for name, value in entry["evidence"].items()}
