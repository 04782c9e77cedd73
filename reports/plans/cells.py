"""The table to fill in, as cells: a row for each channel, a column for each run in run order."""

from typing import Final

from reports import document as doc
from reports.spreadsheet_text import quoted

HEADINGS: Final = ("channel", "rf_channel")
NOTHING_FOUND, NOT_SCANNED = "none", "not scanned"
"""What is typed where there is no number; the same in every language, since readings are read by it."""


def heading(document: doc.Document) -> list[str]:
    """The heading: channel, rf_channel, then one `element@round` for each run."""
    return [*HEADINGS, *(quoted(f"{run['element']}@{run['round']}") for run in document["order"])]


def channel_rows(document: doc.Document) -> list[list[str]]:
    """Channel and RF channel, empty where nobody stated it."""
    return [
        [quoted(channel["id"]), quoted(channel.get("rf_channel") or "")]
        for channel in document["trial"]["channels"]
    ]
