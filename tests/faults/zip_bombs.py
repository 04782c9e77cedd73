"""Bombs that are zips: workbooks and archives of trials."""

import io
import zipfile
from collections.abc import Callable, Iterator
from itertools import pairwise

from service.jobs.archive_zip import zipped
from tests.faults.bomb import MILLION, REPLAY, ZIP, Bomb
from tests.intake.made_workbooks import XLSX, repacked, workbook

SHEET = "xl__worksheets__sheet1___xml"
ROWS = [["element", "round", "channel", "value"], ["a", 1, "Quay", 5]]
NAMESPACE = b"http://schemas.openxmlformats.org/spreadsheetml/2006/main"
CELLS = b'<worksheet xmlns="' + NAMESPACE + b'"><sheetData>%s</sheetData></worksheet>'
OUTSIDE = b'<!DOCTYPE w [<!ENTITY a SYSTEM "file:///etc/hostname">]><worksheet>&a;</worksheet>'


def zip_bombs() -> Iterator[Bomb]:
    """All of them."""
    yield from _workbooks()
    yield from _archives()


def _sheet(cells: bytes) -> bytes:
    return repacked(workbook(ROWS), **{SHEET: CELLS % cells})


def _laughing() -> bytes:
    names = [b"a" + bytes([97 + n]) for n in range(20)]
    entities = b"".join(b'<!ENTITY %s "%s">' % (new, b"&%s;" % old * 10) for old, new in pairwise(names))
    text = (
        b'<?xml version="1.0"?><!DOCTYPE w [<!ENTITY aa "ha">' + entities + b"]><worksheet>&at;</worksheet>"
    )
    return repacked(workbook(ROWS), **{SHEET: text})


def _overlapping() -> bytes:
    """A directory of many entries that all lead to one member of ten megabytes."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/worksheets/sheet1.xml", bytes(10**7))
        (entry,) = archive.filelist
        archive.filelist = [entry] * 60
        archive._didModify = True
    return file.getvalue()


def _workbooks() -> Iterator[Bomb]:
    row = b'<row r="%d"><c r="A%d"><v>1</v></c></row>'
    bodies: dict[str, Callable[[], bytes]] = {
        "zeros beyond the limit": lambda: repacked(workbook(ROWS), **{SHEET: bytes(260 * 2**20)}),
        "entries that overlap": _overlapping,
        "a hundred thousand parts": lambda: repacked(workbook(ROWS), **{f"x{n}": b"" for n in range(20_000)}),
        "a billion laughs": _laughing,
        "an entity from outside": lambda: repacked(workbook(ROWS), **{SHEET: OUTSIDE}),
        "elements in elements": lambda: _sheet(b"<a>" * 200_000),
        "an attribute of ten million characters": lambda: _sheet(b'<row r="' + b"9" * 10**7 + b'"/>'),
        "a cell far to the right": lambda: _sheet(b'<row r="1"><c r="ZZZZZZ1"><v>1</v></c></row>'),
        "a row far below": lambda: _sheet(row % (1, 1) + row % (2**31, 2**31)),
        "a million empty rows": lambda: _sheet(b"<row/>" * MILLION),
        "far corners again and again": lambda: _sheet(
            b"".join(b'<row><c r="XFD%d"><v>1</v></c></row>' % n for n in range(1, 20_000))
        ),
        "shared texts without end": lambda: repacked(
            workbook(ROWS), xl__sharedStrings___xml=b"<sst>" + b"<si><t>a</t></si>" * MILLION
        ),
        "a zip of something else": lambda: b"PK\x03\x04" + bytes(MILLION),
    }
    for name, body in bodies.items():
        yield Bomb(f"XLSX: {name}", body, XLSX)


def _archive(**members: bytes) -> bytes:
    empty = dict.fromkeys(
        ("archive.json", "trial.json", "history.json", "batches.json", "analysis.json"), b"{}"
    )
    return zipped(
        {**empty, **{name.replace("__", "/").replace("_", "."): body for name, body in members.items()}}
    )


def _archives() -> Iterator[Bomb]:
    deep = b"[" * 100_000
    bodies: dict[str, Callable[[], bytes]] = {
        "zeros beyond the limit": lambda: _archive(readings_csv=bytes(260 * 2**20)),
        "lists in lists": lambda: _archive(archive_json=deep),
        "digests without end": _digests,
    }
    for name, body in bodies.items():
        yield Bomb(f"archive: {name}", body, ZIP, REPLAY)


def _digests() -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("SHA256SUMS", (b"0" * 64 + b"  trial.json\n") * 200_000)
    return file.getvalue()
