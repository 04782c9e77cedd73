"""Tables of text: the quick and the careful way agree, rows keep their lines, what is no text is refused."""

import csv
import io

import pytest

from service.errors import BadRequest
from service.intake import text_table as module
from service.intake.faults import FaultList
from service.intake.heading_search import text_heading
from service.intake.text_lines import text_lines
from service.intake.text_table import text_table


def read(body):
    faults = FaultList(in_json=False)
    lines = text_lines(body if isinstance(body, bytes) else body.encode())
    heading = text_heading(lines, (",", ";", "\t", "|"), most_columns=1000).heading
    return text_table(lines, heading, faults), faults


def cells(table):
    return [[column.text(row) for column in table.columns] for row in range(len(table.rows))]


PLAIN = "element,channel,value\n01,NA,null\n1, x ,7\n,None,\n01,x,1e5"


def test_texts_stay_as_they_are():
    table, faults = read(PLAIN)
    assert cells(table) == [["01", "NA", "null"], ["1", "x", "7"], ["", "None", ""], ["01", "x", "1e5"]]
    assert table.rows.tolist() == [2, 3, 4, 5]
    assert faults.count == 0


def test_both_ways_read_the_same(monkeypatch):
    quick, _ = read(PLAIN)
    monkeypatch.setattr(module, "_splits_evenly", lambda *_: False)
    careful, _ = read(PLAIN)
    assert cells(quick) == cells(careful)
    assert quick.rows.tolist() == careful.rows.tolist()


def test_the_careful_way_reads_many_lots(monkeypatch):
    monkeypatch.setattr(module, "ROWS_AT_ONCE", 2)
    table, _ = read("element,channel,value\n" + "".join(f'"a",x,{number}\n' for number in range(7)))
    assert [row[2] for row in cells(table)] == list("0123456")
    assert table.rows.tolist() == list(range(2, 9))


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("close", ["", "end", "end end"])
def test_line_endings_do_not_matter(ending, close):
    body = PLAIN.replace("\n", ending) + close.replace("end", ending).replace(" ", "")
    assert cells(read(body)[0]) == cells(read(PLAIN)[0])


def test_a_byte_order_mark_is_no_part_of_the_heading():
    lines = text_lines(b"\xef\xbb\xbf" + PLAIN.encode())
    assert lines.byte_order_mark
    assert lines.top(1) == [(1, "element,channel,value")]


def test_empty_lines_are_skipped_and_counted():
    table, faults = read("\n\nelement,channel,value\n\na,x,1\n,,\na,y,2\n")
    assert table.heading.row == 3
    assert (table.rows.tolist(), faults.count) == ([5, 7], 0)
    assert table.empty_rows.tolist() == [6]


def test_empty_columns_without_a_heading_are_left_out():
    table, _ = read("element,channel,value,,\na,x,1,,\n")
    assert table.heading.names == ("element", "channel", "value")
    assert read("element,channel,value,\na,x,1,9\n")[0].heading.names[-1] == ""


def test_rows_with_too_few_or_too_many_cells_are_told_and_left_out():
    table, faults = read("element,channel,value\na,x\na,y,1\na,z,7,5\n")
    assert cells(table) == [["a", "y", "1"]]
    with pytest.raises(Exception, match="2 faults") as refusal:
        faults.raise_any()
    few, many = refusal.value.faults
    assert (few.row, few.given, many.row, many.given) == (2, "a,x", 4, "a,z,7,5")
    assert "2 cells where the heading has 3" in few.detail
    assert "decimal comma" in many.detail


def test_rows_are_counted_by_lines_also_below_a_cell_of_two_lines():
    table, _ = read('element,channel,value\n"a\nb",x,1\nc,y,2\n')
    assert table.rows.tolist() == [2, 4]


def test_a_byte_order_mark_below_the_heading_is_kept():
    table, _ = read("element,channel,value\n\ufeffa,x,1\n")
    assert cells(table) == [["\ufeffa", "x", "1"]]


def test_a_single_column_may_have_empty_lines():
    assert cells(read("element\n\na\n\nb")[0]) == [["a"], ["b"]]


def test_quoted_cells_may_hold_separators_and_quotation_marks():
    table, _ = read('element,channel,value\n"3 mm, ""bright""",x,1\n3" rod,y,2\n')
    assert [row[0] for row in cells(table)] == ['3 mm, "bright"', '3" rod']


@pytest.mark.parametrize("body", ['element,channel,value\n"a,x,1\n', 'element,channel,value\n"a"b,x,1\n'])
def test_quotation_marks_out_of_place_are_refused_with_their_line(body):
    with pytest.raises(BadRequest, match="Line 2"):
        read(body)


def test_a_quotation_mark_left_open_is_looked_for_where_its_row_begins():
    rows = ["a,x,1", '"b', 'c",x,1', "d,x,1"]
    body = "\n".join(["element,channel,value", *rows, '"e,x,1', *["f,x,1"] * 3000])
    with pytest.raises(BadRequest, match="Line 6 cannot"):
        read(body)


@pytest.mark.parametrize(
    ("body", "match"),
    [
        (b"", "empty"),
        (b" \n\t\r\n", "empty"),
        (b"\xef\xbb\xbf", "empty"),
        (b"\xe9l\x81ment,x\n", r"cp1252 \(line 1\)"),
        (b"element,x\r\na,b\r\n\xe9\x8d,1", r"cp1252 \(line 3\)"),
        (b"\xef\xbb\xbfelement,x\na,\xe9", r"begins as UTF-8 and is not in line 2"),
        (b"\xff\xfee\x00l", "begins as UTF-16"),
        (b"PK\x03\x04", "workbook"),
        (b"element\0,x", "zero bytes"),
    ],
)
def test_what_is_no_text_is_refused(body, match):
    with pytest.raises(BadRequest, match=match):
        text_lines(body)


def test_other_line_separators_are_parts_of_names():
    table, _ = read("element,channel,value\na\u2028b,x\x0by,1\n")
    assert cells(table) == [["a\u2028b", "x\x0by", "1"]]


def test_a_table_of_a_heading_alone_has_no_rows():
    table, faults = read("element,channel,value")
    assert (len(table.rows), faults.count, len(table.columns)) == (0, 0, 3)


def test_what_the_csv_module_writes_is_read_back():
    written = [["a", "x;y", "1"], ['b"c', "x,y", " 2"], ["ü", "#", ""]]
    text = io.StringIO()
    csv.writer(text).writerows([["element", "channel", "value"], *written])
    assert cells(read(text.getvalue())[0]) == [[cell.strip() for cell in row] for row in written]
