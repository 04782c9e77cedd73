"""The table to fill in as CSV, in UTF-8 with the mark by which spreadsheets know it."""

import csv
import io

from reports import document as doc
from reports.plans.cells import channel_rows, heading


def render(document: doc.Document) -> bytes:
    """The heading and a row for each channel, its readings left blank."""
    columns = heading(document)
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(columns)
    for row in channel_rows(document):
        writer.writerow([*row, *[""] * (len(columns) - len(row))])
    return text.getvalue().encode("utf-8-sig")
