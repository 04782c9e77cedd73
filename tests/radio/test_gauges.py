"""Wire gauges against the collected tables."""

import pytest

from service.radio.gauges import (
    AWG,
    BIRMINGHAM,
    SOURCES,
    STEEL_WIRE,
    SWG,
    TABLES,
    gauge_mm,
    meanings_mm,
    numbers_known,
)
from service.trial.trial import GAUGE_TABLES
from tests.radio.facts import FACTS

INCHES = {STEEL_WIRE: "steel_wire_gauge_in", SWG: "imperial_swg_in", BIRMINGHAM: "birmingham_in"}
# Comparative wire-gauge tables, three agreeing copies read; status secondary.
IN_INCHES = [(table, int(n), inch) for table, key in INCHES.items() for n, inch in FACTS[key].items()]


@pytest.mark.parametrize(("number", "millimetres"), [(int(n), mm) for n, mm in FACTS["awg_mm"].items()])
def test_american_gauge_is_the_table(number, millimetres):
    """ASTM B258 and NBS Handbook 100; status computed and secondary."""
    assert gauge_mm(AWG, number) == pytest.approx(millimetres, abs=0.00051)


def test_american_gauge_has_its_anchor_and_its_ratio():
    fact = FACTS["awg_formula"]
    assert gauge_mm(AWG, 36) == pytest.approx(fact["anchors"]["36"], rel=1e-12)
    assert gauge_mm(AWG, 17) / gauge_mm(AWG, 18) == pytest.approx(fact["ratio_per_step"], abs=5e-6)


@pytest.mark.parametrize(("table", "number", "inch"), IN_INCHES)
def test_the_other_gauges_are_the_tables(table, number, inch):
    assert gauge_mm(table, number) == pytest.approx(inch * 25.4, rel=1e-12)


@pytest.mark.parametrize(
    ("number", "millimetres"), [(int(n), mm) for n, mm in FACTS["steel_wire_gauge_mm"].items()]
)
def test_steel_wire_gauge_agrees_with_the_table_in_millimetres(number, millimetres):
    assert gauge_mm(STEEL_WIRE, number) == pytest.approx(millimetres, abs=0.00051)


@pytest.mark.parametrize(("number", "ratio"), FACTS["gauge_note"]["steel_over_awg_diameter_ratio"].items())
def test_one_number_is_a_fifth_to_a_third_thicker_in_steel(number, ratio):
    assert gauge_mm(STEEL_WIRE, int(number)) / gauge_mm(AWG, int(number)) == pytest.approx(ratio, abs=0.00051)


def test_the_tables_are_those_of_the_trial_document_and_each_has_a_source():
    assert set(TABLES) == set(GAUGE_TABLES) == set(SOURCES)


@pytest.mark.parametrize("table", TABLES)
def test_beyond_a_table_nothing_is_made_up(table):
    assert gauge_mm(table, 60) is None
    assert gauge_mm(table, -1) is None
    first, last = numbers_known(table).split(" to ")
    assert gauge_mm(table, int(first)) is not None
    assert gauge_mm(table, int(last)) is not None
    assert gauge_mm(table, int(last) + 1) is None


def test_a_bare_number_means_up_to_four_diameters():
    found = meanings_mm(13)
    assert {name: round(mm, 2) for name, mm in found.items()} == {
        AWG: 1.83, STEEL_WIRE: 2.32, SWG: 2.34, BIRMINGHAM: 2.41
    }  # fmt: skip
    assert set(meanings_mm(30)) == {AWG}
    assert meanings_mm(55) == {}


def test_an_unknown_table_is_an_error():
    with pytest.raises(KeyError):
        gauge_mm("metric", 13)
