"""Rows and columns of sums: skipped where they are found to be sums, refused where not."""

import pytest

from tests.intake.made_batches import batch, cells, faults_of, only_fault

WIDE = "channel,a@1,b@1\nx,7,6\ny,4,\nz,2,none\n"
EXPECTED = cells(batch(WIDE)[1])


@pytest.mark.parametrize(
    "last",
    ["Total,13,6", "SUM,13.0,6", "Average,4.33,6", "mean:,4.333333333333333,6.0", "Total,13,", "Average,4,6"],
)
def test_a_row_of_sums_or_means_is_skipped_and_told(last):
    _, readings = batch(WIDE + last)
    assert cells(readings) == EXPECTED
    (skipped,) = readings.read_as["skipped"]
    assert skipped["row"] == 5
    assert (skipped["why"], skipped["code"]) in (
        ("the row is the sum of the others", "row-of-sums"),
        ("the row is the mean of the others", "row-of-means"),
    )


def test_sums_may_be_out_of_scale_and_stand_above():
    _, readings = batch("channel,a@1,b@1\nTotal,19,16\nx,10,9\ny,9,7")
    assert len(readings.frame) == 4


def test_a_sum_and_a_mean_may_both_stand():
    assert cells(batch(WIDE + "Total,13,6\nMean,4.3,6")[1]) == EXPECTED


@pytest.mark.parametrize("last", ["Total,14,6", "Average,4.3,7", "Total,13,?", "Total,12.9,6", "Mean,13,3"])
def test_a_row_that_does_not_hold_is_refused_with_the_remedy(last):
    fault = only_fault(batch, WIDE + last)
    assert (fault.row, fault.column, fault.given) == (5, "channel", last.partition(",")[0])
    assert "take it out" in fault.detail


def test_a_column_of_sums_is_skipped_and_told():
    _, readings = batch("channel,a@1,b@1,Total\nx,7,6,13\ny,4,,4\nTotal,11,6,17")
    assert set(readings.frame["element"]) == {"a", "b"}
    told = readings.read_as
    assert [(entry["why"], entry["code"], entry["evidence"]) for entry in told["skipped"]] == [
        ("the row is the sum of the others", "row-of-sums", {}),
        ("the column Total is the sum of the others", "column-of-sums", {"column": "Total"}),
    ]
    assert told["columns"][3] == {
        "heading": "Total", "read_as": "not read", "code": "not-read", "evidence": {},
    }  # fmt: skip
    assert told["blanks_read_as_lost"] == 1


def test_a_column_that_does_not_hold_is_refused_with_the_remedy():
    fault = only_fault(batch, "channel,a@1,b@1,Total\nx,7,6,13\ny,4,5,8")
    assert (fault.row, fault.column) == (1, "Total")
    assert "Total@1 where it is an element" in fault.detail
    assert len(batch("channel,a@1,Total@1\nx,7,6")[1].frame) == 2


def test_a_long_table_may_end_in_a_sum():
    body = "element,round,channel,value\na,1,x,7,\nb,1,x,6,\n{}".replace(",\n", "\n")
    for last in ("Total,,,13", ",,Total,13", "Mean,,,6.5", "Total,,Total,13"):
        _, readings = batch(body.format(last))
        assert len(readings.frame) == 2
        assert readings.read_as["skipped"][0]["row"] == 4
    fault = only_fault(batch, body.format("Total,,,14"))
    assert (fault.row, fault.column, fault.given) == (4, "element", "Total")


def test_a_channel_of_such_a_name_is_read_in_the_long_form():
    _, readings = batch("element,round,channel,value\na,1,x,7\na,1,Total,8")
    assert set(readings.frame["channel"]) == {"x", "Total"}


def test_decimal_commas_and_units_in_sums():
    _, readings = batch("channel;a@1 (dBm);b@1 (dBm)\nx;-50,5;-51\ny;-49;-50\nMean;-49,8;-50,5",
                        trial={"meter": {"unit": "dBuV", "impedance_ohm": 75}})  # fmt: skip
    assert len(readings.frame) == 4


def test_a_blank_row_of_that_name_was_not_scanned():
    assert len(faults_of(batch, WIDE + "Total,,\nx,1,1")) == 1
    assert cells(batch(WIDE + "Total,,")[1]) == EXPECTED
