"""Workbooks: what their cells mean, which sheet is read, what is refused by cell or before it is unpacked."""

import datetime
import io

import openpyxl
import pytest
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont

from service.errors import BadRequest
from tests.intake.made_batches import cells, faults_of, only_fault
from tests.intake.made_workbooks import XLSX, read, repacked, saved, workbook

HEADING = ("element", "round", "channel", "value")
LONG = (HEADING, ("a", 1, "x", 7), ("a", 1, "y", 6.5))
SHEET = "xl__worksheets__sheet1___xml"


def test_long_and_wide_are_read():
    _, readings = read(workbook(LONG))
    assert cells(readings) == [("a", 1, "x", 7.0), ("a", 1, "y", 6.5)]
    assert list(readings.frame["row"]) == [2, 3]
    _, readings = read(workbook([("Channel", "a@1", "b@2"), ("x", 7, "none"), ("y", 6.5, 3)]))
    assert cells(readings) == [
        ("a", 1, "x", 7.0),
        ("a", 1, "y", 6.5),
        ("b", 2, "x", None),
        ("b", 2, "y", 3.0),
    ]


def test_how_it_was_read_is_told():
    rows = [("Quayside trial",), (), *LONG[:2], (), *LONG[2:]]
    body = workbook(rows, Notes=[("taken by hand",)], readings=())
    _, readings = read(workbook([], readings=rows, Notes=[("taken by hand",)]))
    told = readings.read_as
    assert (told["media_type"], told["sheet"], told["header_row"], told["shape"]) == (
        XLSX,
        "readings",
        3,
        "long",
    )
    assert (told["encoding"], told["delimiter"], told["decimal_mark"], told["rows"]) == (None, None, ".", 2)
    assert [(one["row"], one["why"], one["code"]) for one in told["skipped"]] == [
        (1, "the line stands above the heading", "above-heading")
    ]
    assert told["notes"] == ["the sheet Notes was not read"]
    with pytest.raises(BadRequest, match="Several sheets hold data: Sheet, Notes"):
        read(body)


def test_numbers_are_names_too_and_texts_numbers():
    rows = [HEADING, ("a", 1.0, 27.1, "7"), ("a", "1", 27, " 6,5 "), ("b", 1, 27.1, 5.5), ("b", 1, 27, True)]
    (fault,) = faults_of(read, workbook(rows))
    assert (fault.row, fault.column, fault.given) == (5, "value", "true")
    _, readings = read(workbook(rows[:-1]))
    assert cells(readings) == [("a", 1, "27", 6.5), ("a", 1, "27.1", 7.0), ("b", 1, "27.1", 5.5)]
    assert readings.read_as["decimal_mark"] == ","


def test_texts_of_two_decimal_marks_are_refused():
    fault = only_fault(read, workbook([HEADING, ("a", 1, "x", "7.5"), ("a", 1, "y", "6,5")]))
    assert (fault.row, fault.given) == (3, "6,5")


@pytest.mark.parametrize(
    ("value", "given", "part"),
    [
        (datetime.datetime(2026, 10, 7), "2026-10-07", "7/10"),
        (datetime.datetime(2026, 10, 7, 12, 30), "2026-10-07 12:30:00", "a date"),
        (datetime.time(7, 10), "1899-12-30 07:10:00", "a date"),
        ("#N/A", "#N/A", "error of the spreadsheet"),
        ("#DIV/0!", "#DIV/0!", "error of the spreadsheet"),
        ("=1+1", "=", "no value"),
    ],
)
def test_cells_that_are_no_reading_are_refused_by_cell(value, given, part):
    found = faults_of(read, workbook([HEADING, ("a", 1, "x", value), ("a", 1, value, 6)]))
    assert [(fault.row, fault.column, fault.given) for fault in found] == [
        (2, "value", given), (3, "channel", given),
    ]  # fmt: skip
    assert all(part in fault.detail for fault in found)


def test_a_formula_that_was_worked_out_counts_as_its_value():
    sheet = (
        b'<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>'
        b'<row><c t="inlineStr"><is><t>channel</t></is></c><c t="str"><f>"a"</f><v>a@1</v></c></row>'
        b'<row><c t="inlineStr"><is><r><t>x</t></r><r><t>1</t></r><rPh><t>?</t></rPh></is></c>'
        b"<c><f>SUM(A1)</f><v>7</v></c></row>"
        b'<row><c t="inlineStr"><is><t>y</t></is></c><c><f>1</f></c></row></sheetData></worksheet>'
    )
    fault = only_fault(read, repacked(workbook(LONG), **{SHEET: sheet}))
    assert (fault.row, fault.column) == (3, "a@1")
    _, readings = read(repacked(workbook(LONG), **{SHEET: sheet.replace(b"<f>1</f>", b"<f>1</f><v>5</v>")}))
    assert cells(readings) == [("a", 1, "x1", 7.0), ("a", 1, "y", 5.0)]
    blank = sheet.replace(b"<c><f>1</f></c>", b'<c t="str"><f>""</f><v></v></c>')
    assert len(read(repacked(workbook(LONG), **{SHEET: blank}))[1].frame) == 1


def test_a_number_shown_as_a_percent_is_one():
    def shown(sheet):
        sheet["D2"].number_format, sheet["D3"].number_format = "0%", "0.0%"

    rows = [HEADING, ("a", 1, "x", 0.85), ("a", 1, "y", 0.123)]
    _, readings = read(workbook(rows, change=shown), trial={"meter": {"unit": "percent"}})
    assert [row[3] for row in cells(readings)] == [85.0, 12.3]
    assert {fault.given for fault in faults_of(read, workbook(rows, change=shown))} == {"85 %", "12.3 %"}


@pytest.mark.parametrize("code", ["0.00", "General", '0.0" dB"', "[Red]0", "#,##0", "0.0E+00", '0" days"'])
def test_other_ways_of_showing_a_number_change_nothing(code):
    def shown(sheet):
        sheet["D2"].number_format = code

    assert cells(read(workbook(LONG, change=shown))[1])[0][3] == 7.0


@pytest.mark.parametrize("code", ["yyyy-mm-dd", "d. mmm", "hh:mm", "[h]:mm", "dd/mm/yy;@", "mm:ss.0"])
def test_a_number_shown_as_a_date_is_refused(code):
    def shown(sheet):
        sheet["D2"].number_format = code

    assert "date" in only_fault(read, workbook(LONG, change=shown)).detail


def test_merged_cells_in_the_table_are_refused_and_above_it_not():
    def merge(sheet):
        sheet.merge_cells("A1:D1")
        sheet.merge_cells("A3:A4")

    rows = [("Title",), *LONG]
    found = faults_of(read, workbook(rows, change=merge))
    assert (found[0].row, found[0].column) == (3, "A3:A4")
    assert "Unmerge" in found[0].detail
    read(workbook(rows, change=lambda sheet: sheet.merge_cells("A1:D1")))


def test_hidden_rows_and_columns_are_read_and_told():
    def hide(sheet):
        sheet.row_dimensions[3].hidden = True
        sheet.column_dimensions["B"].hidden = True

    _, readings = read(workbook(LONG, change=hide))
    assert len(readings.frame) == 2
    assert readings.read_as["notes"] == ["hidden rows were read: 3", "hidden columns were read: 2 to 2"]


def test_the_sheet_named_readings_is_read():
    book = openpyxl.Workbook()
    book.active.append(("some", "list"))
    other = book.create_sheet("Readings ")
    for row in LONG:
        other.append(row)
    assert read(saved(book))[1].read_as["sheet"] == "Readings "


def test_hidden_sheets_do_not_compete():
    book = openpyxl.Workbook()
    for row in LONG:
        book.active.append(row)
    book.create_sheet("lists").append(("x",))
    book["lists"].sheet_state = "hidden"
    assert read(saved(book))[1].read_as["notes"] == ["the sheet lists was not read (it is hidden)"]
    book.active.sheet_state = "hidden"
    del book["lists"]
    book.create_sheet("empty")
    assert read(saved(book))[1].read_as["notes"] == ["the sheet Sheet is hidden and was read"]


def test_rich_text_is_text():
    bold = CellRichText("Harbour ", TextBlock(InlineFont(b=True), "One"))
    assert cells(read(workbook([HEADING, ("a", 1, bold, 7)]))[1]) == [("a", 1, "Harbour One", 7.0)]


def test_the_numbers_of_this_file_agree_with_another_reader():
    values = [0.1, 7.6, 1 / 3, 9.999999999999998, 5e-7, 3]
    body = workbook([HEADING, *(("a", 1, f"c{place}", value) for place, value in enumerate(values))])
    sheet = openpyxl.load_workbook(io.BytesIO(body), read_only=True).active
    theirs = [float(row[3]) for row in sheet.iter_rows(min_row=2, values_only=True)]
    assert [row[3] for row in cells(read(body)[1])] == theirs == values


def test_sums_are_left_out():
    body = workbook([("channel", "a@1", "b@1", "Total"), ("x", 7, 6, 13), ("y", 5, 4, 9), ("Mean", 6, 5, 11)])
    _, readings = read(body)
    assert [row[3] for row in cells(readings)] == [7.0, 5.0, 6.0, 4.0]
    assert [entry["row"] for entry in readings.read_as["skipped"]] == [4, 1]


def test_cells_right_of_the_heading_need_one():
    found = faults_of(read, workbook([HEADING, ("a", 1, "x", 7), ("a", 1, "y", 7, None, "late")]))
    assert {fault.row for fault in found} == {1}
