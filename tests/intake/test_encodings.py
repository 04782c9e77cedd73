"""However the same table is encoded, parted and spelt, the same readings come out, and it is told."""

import codecs
import csv
import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.errors import BadRequest
from service.trial.rounds import assign_rounds
from service.trial.scores import score_table
from tests.intake.made_batches import BARS, CSV, TSV, batch, cells
from tests.intake.made_workbooks import XLSX, workbook
from tests.intake.test_properties import expected, long_table, tables, wide_table

SPELT = {"element": "Antenna", "round": "Round no.", "channel": "CH.", "value": "Signal (bars)"}


MANNERS = st.fixed_dictionaries(
    {
        "sign": st.sampled_from([";", "\t", "|"]),
        "ending": st.sampled_from(["\n", "\r\n", "\r"]),
        "encoding": st.sampled_from(["utf-8", "utf-8-sig", "utf-16"]),
        "mark": st.sampled_from([".", ","]),
        "above": st.sampled_from(["", "sep={}\n", "\n\n", "A title\n\n"]),
    }
)


@settings(max_examples=60, deadline=None)
@given(tables(), st.sampled_from([long_table, wide_table]), MANNERS)
def test_encoding_ending_separator_and_lines_above_do_not_matter(rows, form, manner):
    body = manner["above"].format(manner["sign"]) + form(rows, manner["sign"], manner["mark"])
    trial, readings = batch(body.replace("\n", manner["ending"]).encode(manner["encoding"]))
    plain_trial, plain = batch(form(rows))
    assert cells(readings) == expected(rows)
    assert trial.document() == plain_trial.document()
    assert readings.read_as["encoding"] == manner["encoding"].removesuffix("-sig")
    one = score_table(trial, assign_rounds(readings).frame)
    other = score_table(plain_trial, assign_rounds(plain).frame)
    assert one.scores.tobytes() == other.scores.tobytes()


@settings(max_examples=40, deadline=None)
@given(tables(), st.booleans())
def test_a_workbook_gives_the_same_table(rows, is_wide):
    if is_wide:
        lines = list(csv_rows(wide_table(rows)))
    else:
        lines = [list(SPELT.values()), *([e, n, c, v] for e, n, c, v in rows)]
    _, readings = batch(workbook(lines), XLSX)
    assert cells(readings) == expected(rows)


def csv_rows(text):
    return csv.reader(io.StringIO(text))


def test_cp1252_is_read_and_told():
    body = "element;round;channel;value\nBügel – 3 mm;1;Köln;7,5 bars\n"
    _, readings = batch(body.encode("cp1252"))
    assert cells(readings) == [("Bügel – 3 mm", 1, "Köln", 7.5)]
    assert (readings.read_as["encoding"], readings.read_as["byte_order_mark"]) == ("cp1252", False)


def test_a_line_that_names_the_separator_is_no_part_of_the_table():
    _, readings = batch('"sep=;"\r\nchannel;a,1@1;b\r\nx;7;8')
    assert readings.read_as["delimiter"] == ";"
    assert readings.read_as["header_row"] == 2
    assert readings.read_as["skipped"] == [
        {"row": 1, "why": "the line names the separator", "code": "separator-row", "evidence": {}}
    ]
    assert batch("SEP=\t\nchannel\ta\nx\t7", TSV)[1].read_as["delimiter"] == "\t"


@pytest.mark.parametrize(("sign", "media_type"), [(":", CSV), (";", TSV)])
def test_a_separator_that_is_not_read_is_refused(sign, media_type):
    with pytest.raises(BadRequest, match="names a separator that is not read here"):
        batch(f"sep={sign}\nchannel{sign}a\nx{sign}7", media_type)


def test_a_body_that_only_names_a_separator_is_empty():
    with pytest.raises(BadRequest, match="empty"):
        batch("sep=;\n\n")


def test_other_spaces_and_signs_are_read_and_told():
    body = "channel;Brass\u00a0rod@1 (dBm)\nHarbour\u00a0One;\u202f−62,5\u00a0dBm\nHarbour Two;\u201362"
    _, readings = batch(body, trial={"meter": {"unit": "dBm"}})
    assert cells(readings) == [("Brass rod", 1, "Harbour One", -62.5), ("Brass rod", 1, "Harbour Two", -62.0)]
    assert readings.read_as["notes"] == ["no-break spaces were read as plain ones (2 cells)"]


@pytest.mark.parametrize("said", ["yes", "Y", "TRUE", "1", "no", "N", "False", "0", ""])
def test_received_is_said_in_many_ways(said):
    value = "7" if said.lower() in ("yes", "y", "true", "1", "") else ""
    _, readings = batch(f"element,round,channel,value,received\na,1,x,{value},{said}\na,1,y,3,")
    assert readings.frame["received"].tolist() == [value == "7", True]


def test_sixteen_bits_cut_short_are_refused():
    with pytest.raises(BadRequest, match="begins as UTF-16"):
        batch(codecs.BOM_UTF16_LE + "channel,a\nx,7".encode("utf-16-le")[:-1], trial=BARS)


def test_empty_rows_columns_and_cells_beyond_the_heading_do_not_matter():
    plain = batch("channel,a@1,b@1\nx,7,8\ny,6,5")[1]
    _, readings = batch(",,,,\n\nchannel,a@1,,b@1,\n,,,,\nx,7,,8,,,\n\ny,6,,5,\n,,,,\n")
    assert cells(readings) == cells(plain)
    assert [column["heading"] for column in readings.read_as["columns"]] == ["channel", "a@1", "b@1"]
