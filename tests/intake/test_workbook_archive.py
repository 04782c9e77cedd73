"""What is refused before any cell of a workbook is looked at: no workbook, too large, a DTD, broken."""

import io
import zipfile

import pytest

from service.errors import BadRequest, TooLarge
from service.settings import Limits
from tests.intake.made_batches import BARS, cells, faults_of
from tests.intake.made_workbooks import read, repacked, workbook

HEADING = ("element", "round", "channel", "value")
LONG = (HEADING, ("a", 1, "x", 7), ("a", 1, "y", 6.5))
SHEET = "xl__worksheets__sheet1___xml"


@pytest.mark.parametrize(
    ("body", "match"),
    [
        (b"", "empty"),
        (b"element,round\n", "no workbook"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, r"password.*\.xls.*Save it as XLSX"),
        (b"PK\x03\x04" + b"\0" * 40, "no workbook"),
        (workbook([]), "workbook is empty"),
        (workbook(LONG)[:-40], "no workbook"),
    ],
)
def test_what_is_no_workbook_is_refused_with_the_remedy(body, match):
    with pytest.raises(BadRequest, match=match):
        read(body)


def packed(**parts):
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return file.getvalue()


def test_an_open_document_is_refused_with_the_remedy():
    body = packed(mimetype=b"application/vnd.oasis.opendocument.spreadsheet", content=b"<x/>")
    with pytest.raises(BadRequest, match=r"OpenDocument.*Save it as XLSX"):
        read(body)


def test_an_archive_of_something_else_is_refused():
    with pytest.raises(BadRequest, match="no workbook"):
        read(packed(a=b"1"))


DTD = b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "b"><!ENTITY c "&a;&a;&a;">]><worksheet>&c;</worksheet>'


RELATIONS = b"""<r:Relationships xmlns:r="p">
<r:Relationship Id="a" Type="x/worksheet" Target="worksheets/sheet1.xml"/>
<r:Relationship Id="b" Type="x/sharedStrings" Target="/xl/texts.xml"/>
<r:Relationship Id="c" Type="x/worksheet" Target="http://there" TargetMode="External"/></r:Relationships>"""
BOOK = b'<workbook><sheets><sheet name="One" d:id="a"/><sheet name="Two" d:id="c"/></sheets></workbook>'
TEXTS = (
    b"<x:sst><x:si><x:t>channel</x:t></x:si><x:si><x:t>a@1</x:t></x:si>"
    b"<x:si><x:r><x:t>Harbour_x0020_</x:t></x:r><x:r><x:t>One</x:t></x:r>"
    b"<x:rPh><x:t>spoken</x:t></x:rPh></x:si></x:sst>"
)
CELLS = b"""<x:worksheet><x:sheetData>
<x:row><x:c t="s"><x:v>0</x:v></x:c><x:c t="s"><x:v>1</x:v></x:c></x:row>
<x:row><x:c t="s"><x:v>2</x:v></x:c><x:c><x:v>7</x:v></x:c></x:row></x:sheetData></x:worksheet>"""


def as_spreadsheets_write_it(**parts):
    """A workbook with shared texts, prefixes before its names and a sheet elsewhere."""
    whole = {
        SHEET: CELLS, "xl__workbook___xml": BOOK, "xl___rels__workbook___xml___rels": RELATIONS,
        "xl__texts___xml": TEXTS,
    }  # fmt: skip
    whole["xl/_rels/workbook.xml.rels"] = whole.pop("xl___rels__workbook___xml___rels")
    return repacked(workbook(LONG), **(whole | parts))


def test_shared_texts_are_read():
    assert cells(read(as_spreadsheets_write_it())[1]) == [("a", 1, "Harbour One", 7.0)]


def test_a_sheet_elsewhere_is_not_fetched():
    book = BOOK.replace(b'd:id="a"', b'd:id="c"')
    with pytest.raises(BadRequest, match="workbook is empty"):
        read(as_spreadsheets_write_it(xl__workbook___xml=book))


@pytest.mark.parametrize(
    "part", [SHEET, "xl__workbook___xml", "xl__texts___xml", "xl/_rels/workbook.xml.rels"]
)
@pytest.mark.parametrize("content", [DTD, DTD.decode().encode("utf-16")])
def test_a_dtd_is_refused(part, content):
    with pytest.raises(BadRequest, match="DTD"):
        read(as_spreadsheets_write_it(**{part: content}))


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"no xml",
        b"<worksheet><sheetData><row r='2'/><row r='1'/></sheetData></worksheet>",
        b"<worksheet><sheetData><row r='9999999'/></sheetData></worksheet>",
        b"<worksheet><sheetData><row><c r='ZZZ1'/></row></sheetData></worksheet>",
        b"<worksheet><sheetData><row><c r='B1'/><c r='A1'/></row></sheetData></worksheet>",
        b"<worksheet><sheetData><row><c t='s'><v>99</v></c></row></sheetData></worksheet>",
        b"<worksheet><sheetData><row><c><v>seven</v></c></row></sheetData></worksheet>",
    ],
)
def test_a_broken_sheet_is_refused_by_its_part(content):
    with pytest.raises(BadRequest, match=r"broken in its part xl/worksheets/sheet1\.xml"):
        read(repacked(workbook(LONG), **{SHEET: content}))


def test_a_sheet_that_is_not_there_is_refused():
    with pytest.raises(BadRequest, match="broken in its part"):
        read(repacked(workbook(LONG), **{SHEET: None}))


def test_a_workbook_too_large_is_refused_before_it_is_unpacked(monkeypatch):
    body = repacked(workbook(LONG), xl__media__image1___png=b"\0" * 2**20)
    monkeypatch.setattr(zipfile.ZipFile, "open", None)
    with pytest.raises(TooLarge, match=r"unpacks to \d+ bytes; at most 1000000 are read"):
        read(body, limits=Limits(workbook_bytes=10**6))
    with pytest.raises(TooLarge, match="parts; at most 5 are read"):
        read(body, limits=Limits(workbook_entries=5))


def test_the_directory_of_an_archive_is_counted_before_it_is_read(monkeypatch):
    monkeypatch.setattr(zipfile, "ZipFile", None)
    with pytest.raises(TooLarge, match="parts; at most 1000"):
        read(b"PK\x03\x04" + b"PK\x01\x02" * 1001)


def test_an_archive_that_lies_about_its_sizes_is_broken():
    body = bytearray(repacked(workbook(LONG), **{SHEET: b"<worksheet>" + b" " * 10**6 + b"</worksheet>"}))
    place = body.rindex(b"xl/worksheets/sheet1.xml") - 46
    body[place + 24 : place + 28] = (1000).to_bytes(4, "little")
    with pytest.raises(BadRequest, match="broken"):
        read(bytes(body))


def test_cells_are_counted_with_the_gaps_between_them():
    sheet = b"<worksheet><sheetData><row><c r='XFD1'><v>1</v></c></row></sheetData></worksheet>"
    with pytest.raises(TooLarge, match="more cells"):
        read(repacked(workbook(LONG), **{SHEET: sheet}), limits=Limits(workbook_cells=16_383))


def test_readings_are_counted_while_they_are_read():
    with pytest.raises(TooLarge, match="at most 1 are taken"):
        read(workbook(LONG), limits=Limits(readings=1))


def test_a_far_cell_costs_no_rows():
    sheet = workbook(LONG, change=lambda sheet: sheet.cell(1_000_000, 4, "!"))
    fault = faults_of(read, sheet, trial=BARS)[0]
    assert fault.row == 1_000_000
