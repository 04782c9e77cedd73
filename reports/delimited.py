"""All tables of a verdict in one CSV (RFC 4180): every row, numbers unrounded.

Every line begins with the name of its table, and the first line of a table holds its headings, so that a
spreadsheet's filter on the first column shows one table with its headings, and a program takes one apart by
that column. All lines have the same number of fields; those that a table does not use are empty. UTF-8 with
the mark by which spreadsheets know it.

Whatever the locale, programs find the same: a point as decimal mark, a comma between fields, English names of
tables and columns, English codes and outcomes, "yes" and "no". Only whole sentences are in the spoken
language: those of the table of sentences, the messages of the cautions, and what the unit is not.
"""

import csv
import io
from collections.abc import Sequence

from reports.data_tables import Cell, Row, data_tables
from reports.document import Document, clean, without_isolates
from reports.spreadsheet_text import quoted


def render(document: Document) -> bytes:
    """The CSV of a completed analysis document."""
    blocks = [_block(name, rows) for name, rows in data_tables(document)]
    wide = max(len(block[0]) for block in blocks)
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    for block in blocks:
        writer.writerows([*line, *[""] * (wide - len(line))] for line in block)
    return text.getvalue().encode("utf-8-sig")


def _block(name: str, rows: Sequence[Row]) -> list[list[str]]:
    """A table as lines, its headings first."""
    columns = list(dict.fromkeys(column for row in rows for column in row))
    lines = [[name, *columns]]
    lines += [[name, *(_written(row.get(column)) for column in columns)] for row in rows]
    return lines


def _written(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    return repr(cell) if isinstance(cell, int | float) else quoted(without_isolates(clean(cell)))
