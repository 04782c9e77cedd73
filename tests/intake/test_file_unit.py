"""The unit in a heading or in cells, against that of the meter."""

import pytest

from tests.intake.made_batches import batch, cells, faults_of, only_fault

DBUV = {"meter": {"unit": "dBuV"}}
DBUV_75 = {"meter": {"unit": "dBuV", "impedance_ohm": 75}}


def test_a_unit_that_agrees_is_told():
    _, readings = batch("element,channel,value (dBuV)\na,x,52", trial=DBUV)
    assert readings.read_as["columns"][2] == {
        "heading": "value (dBuV)", "read_as": "value, in dBuV",
        "code": "column", "evidence": {"column": "value", "unit": "dBuV"},
    }  # fmt: skip
    assert readings.read_as["notes"] == []


@pytest.mark.parametrize("form", ["element,channel,Level (dBm)\na,x,-60", "channel,a (dBm)\nx,-60"])
def test_levels_are_converted_by_the_impedance_and_told(form):
    _, readings = batch(form, trial=DBUV_75)
    # 90 + 10 log10(75) = 108.7506
    assert cells(readings)[0][3] == pytest.approx(48.7506, abs=5e-5)
    assert readings.read_as["notes"] == ["dBm was converted to dBuV at 75 ohm: +108.751 dB for every reading"]


def test_voltages_need_no_impedance():
    _, readings = batch("channel,a (dBmV)\nx,-8", trial=DBUV)
    assert cells(readings)[0][3] == 52.0


def test_without_the_impedance_the_remedy_names_it_and_nothing_follows():
    fault = only_fault(batch, "channel,a (dBm)\nx,-60", trial=DBUV)
    assert (fault.row, fault.column) == (1, "a (dBm)")
    assert "meter.impedance_ohm" in fault.detail
    assert "the unit dBm for the meter" in fault.detail


@pytest.mark.parametrize(
    ("unit", "heading"),
    [("bars", "%"), ("percent", "bars"), ("dB", "dBuV"), ("dBuV", "dB"), ("percent", "dBm")],
)
def test_a_unit_that_disagrees_is_refused(unit, heading):
    fault = only_fault(batch, f"element,channel,value [{heading}]\na,x,7", trial={"meter": {"unit": unit}})
    assert (fault.row, fault.column) == (1, f"value [{heading}]")
    assert "cannot be made of the other" in fault.detail


def test_columns_of_two_units_are_refused():
    fault = only_fault(batch, "channel,a (dBuV),b (dBm)\nx,52,-60", trial=DBUV_75)
    assert fault.column == "b (dBm)"


@pytest.mark.parametrize(
    ("unit", "cell", "number"),
    [
        ("percent", "85 %", 85), ("percent", "85\u00a0%", 85), ("dB", "17 dB", 17),
        ("dBm", "−60.5 dBm", -60.5),
        ("bars", "7 bars", 7), ("bars", "1 bar", 1), ("dBuV", "52dBµV", 52), ("percent", "85 PERCENT", 85),
    ],
)  # fmt: skip
def test_a_unit_in_a_cell_is_read_where_it_agrees(unit, cell, number):
    _, readings = batch(f"channel,a\nx,{cell}", trial={"meter": {"unit": unit}})
    assert cells(readings)[0][3] == number


@pytest.mark.parametrize(("unit", "cell"), [("bars", "85 %"), ("dBuV", "17 dB"), ("dB", "17 dBm")])
def test_a_unit_in_a_cell_is_refused_where_it_disagrees(unit, cell):
    fault = only_fault(batch, f"channel,a\nx,{cell}", trial={"meter": {"unit": unit}})
    assert (fault.row, fault.column, fault.given) == (2, "a", cell)
    assert f"the readings are in {unit}" in fault.detail


def test_cells_agree_with_the_unit_of_the_heading():
    _, readings = batch("channel,a (dBm)\nx,-60 dBm", trial=DBUV_75)
    assert cells(readings)[0][3] == pytest.approx(48.7506, abs=5e-5)


def test_what_is_beyond_belief_is_told_as_it_was_written():
    fault = only_fault(batch, "channel,a (dBm)\nx,40", trial=DBUV_75)
    assert fault.given == 40.0
    assert "+108.751 dB from the unit of the file" in fault.detail


def test_where_the_trial_has_no_unit_nothing_disagrees():
    found = faults_of(batch, "channel,a (dBm)\nx,-60 dBm", trial={"meter": {}})
    assert [fault.pointer for fault in found] == ["#/trial/meter/unit"]
