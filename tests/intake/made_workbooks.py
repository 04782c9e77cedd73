"""Workbooks made in memory, by a library of another kind than what reads them."""

import io
import zipfile
from collections.abc import Callable, Sequence
from typing import Any

import openpyxl
from openpyxl.worksheet.worksheet import Worksheet

from service.trial.readings_table import Readings
from service.trial.trial import Trial
from tests.intake.made_batches import batch

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
Rows = Sequence[Sequence[Any]]


def workbook(rows: Rows, *, change: Callable[[Worksheet], object] = lambda _: None, **others: Rows) -> bytes:
    """A workbook whose first sheet has these rows; `others` are further sheets by name."""
    book = openpyxl.Workbook()
    sheet = book.active
    for row in rows:
        sheet.append(list(row))
    for name, content in others.items():
        other = book.create_sheet(name)
        for row in content:
            other.append(list(row))
    change(sheet)
    return saved(book)


def saved(book: openpyxl.Workbook) -> bytes:
    """The bytes of a workbook."""
    file = io.BytesIO()
    book.save(file)
    return file.getvalue()


def repacked(body: bytes, **parts: bytes | None) -> bytes:
    """The workbook with some parts of its archive put in anew; __ stands for / and ___ for a point."""
    named = {name.replace("___", ".").replace("__", "/"): content for name, content in parts.items()}
    file = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(body)) as old, zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            content = named.pop(name, old.read(name))
            if content is not None:
                new.writestr(name, content)
        for name, content in named.items():
            new.writestr(name, content or b"")
    return file.getvalue()


def read(body: bytes, **options: Any) -> tuple[Trial, Readings]:
    """The batch in a workbook."""
    return batch(body, XLSX, **options)
