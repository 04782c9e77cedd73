"""What metals can make of a difference: signs, bounds that hold, shapes set apart, and no bare number."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.radio.antenna import DIPOLE, KINDS, LOOP, impedance_ohm, radiation
from service.radio.conductor_loss import compare
from tests.radio.made_conductors import made

METALS = (
    "copper",
    "silver",
    "brass",
    "aluminium 6063",
    "tin",
    "stainless steel",
    "steel",
    "zinc-coated steel",
)


def test_two_of_one_metal_and_shape_differ_by_nothing():
    found = compare(made("steel"), made("steel"), LOOP, frequency_mhz=500, load_ohm=300)
    assert found.metal_difference_db.value == 0
    assert found.metal_difference_bound_db == 0
    assert found.geometry_difference_db.value == 0


def test_the_better_metal_first_is_above_zero_and_the_other_way_round_the_mirror():
    first, second = made("copper", 2.0), made("brass", 3.0, 610.0)
    there = compare(first, second, LOOP, frequency_mhz=500, load_ohm=300)
    back = compare(second, first, LOOP, frequency_mhz=500, load_ohm=300)
    assert there.metal_difference_db.value > 0
    assert back.metal_difference_db.value == pytest.approx(-there.metal_difference_db.value, rel=1e-9)
    assert back.geometry_difference_db.value == pytest.approx(-there.geometry_difference_db.value, rel=1e-9)
    assert back.metal_difference_bound_db == pytest.approx(there.metal_difference_bound_db, rel=1e-9)


def test_of_one_shape_the_metals_make_the_whole_difference_of_the_efficiencies():
    found = compare(made("copper"), made("tin"), DIPOLE, frequency_mhz=250)
    whole = found.first.efficiency_db.value - found.second.efficiency_db.value
    assert found.metal_difference_db.value == pytest.approx(whole, rel=1e-9)


@given(
    metals=st.tuples(st.sampled_from(METALS), st.sampled_from(METALS)),
    diameters=st.tuples(st.floats(0.5, 6), st.floats(0.5, 6)),
    lengths=st.tuples(st.floats(200, 900), st.floats(200, 900)),
    mhz=st.floats(54, 700),
    setting=st.tuples(
        st.sampled_from(KINDS),
        st.sampled_from(["wire", "strip", "stranded"]),
        st.sampled_from([None, 50.0, 300.0]),
    ),
)
def test_the_bound_holds_every_difference_that_the_metals_may_make(
    *, metals, diameters, lengths, mhz, setting
):
    kind, form, load = setting
    one, other = (
        made(metal, diameter, length, form=form)
        for metal, diameter, length in zip(metals, diameters, lengths, strict=True)
    )
    found = compare(one, other, kind, frequency_mhz=mhz, load_ohm=load)
    ends = found.metal_difference_db
    assert ends.low <= ends.high
    if found.valid:
        assert max(abs(ends.low), abs(ends.high)) <= found.metal_difference_bound_db + 1e-12


@pytest.mark.parametrize("load", [5.0, 75.0, 300.0, 2000.0])
@pytest.mark.parametrize("mhz", [480.0, 520.0, 560.0])
def test_the_bound_holds_what_a_load_gets_less(load, mhz):
    """20 log |(Z + R2 + ZL) / (Z + R1 + ZL)|: the loss at the feed point in series with the loop."""
    one, other = made("copper"), made("stainless steel")
    found = compare(one, other, LOOP, frequency_mhz=mhz, load_ohm=load)
    impedance = impedance_ohm(LOOP, one, mhz)
    wave = radiation(LOOP, one, mhz)
    at_feed = impedance.real / wave.resistance_ohm
    first, second = (
        abs(impedance + load + loss * at_feed)
        for loss in (found.first.loss_ohm.high, found.second.loss_ohm.high)
    )
    assert 0 < 20 * math.log10(second / first) <= found.metal_difference_bound_db


def test_a_load_that_is_known_can_only_lower_the_bound():
    one, other = made("copper"), made("brass")
    unknown = compare(one, other, LOOP, frequency_mhz=500).metal_difference_bound_db
    known = compare(one, other, LOOP, frequency_mhz=500, load_ohm=300).metal_difference_bound_db
    assert known < unknown


@pytest.mark.parametrize("kind", KINDS)
def test_far_from_validity_there_are_bounds_and_no_number(kind):
    found = compare(made("copper", length_mm=6000), made("brass", length_mm=6000), kind, frequency_mhz=600)
    told = found.document()
    assert told["valid"] is False
    assert "wavelengths long" in told["why"]
    assert [reason["code"] for reason in told["reasons"]] == ["too-long"]
    assert told["metal_difference_db"] is None
    assert told["geometry_difference_db"] in (None, 0.0)
    assert told["first"]["loss_ohm"] is told["first"]["efficiency_db"] is None
    ends = told["first"]["ranges"]["efficiency_db"]
    assert ends["low"] < ends["high"] == 0.0
    assert 0 < told["metal_difference_bound_db"] < 1


def test_a_conductor_that_is_not_thick_is_told_so():
    found = compare(made("copper", 0.02), made("brass", 0.02), LOOP, frequency_mhz=54)
    assert not found.valid
    told = found.document()
    assert "several skin depths" in told["why"]
    assert told["reasons"] == [{"code": "not-thick", "evidence": {}}]
    assert found.metal_difference_db.value is None


def test_steel_is_valid_but_told_within_bounds():
    found = compare(made("copper"), made("steel"), LOOP, frequency_mhz=500)
    assert found.valid
    told = found.document()
    assert "within bounds" in told["why"]
    assert told["reasons"] == [{"code": "bracketed", "evidence": {}}]
    assert told["second"]["loss_ohm"] is None
    assert told["first"]["loss_ohm"] is not None


def test_where_the_formula_holds_no_reason_is_told():
    told = compare(made("copper"), made("brass"), LOOP, frequency_mhz=500).document()
    assert told["reasons"] == []
    assert "the thin-wire formula holds" in told["why"]


def test_two_conductors_that_are_too_long_by_as_much_are_told_once():
    """They differ by less than the sentence shows; another one is told beside it."""
    first, second = made("copper", length_mm=6000.0), made("brass", length_mm=6000.4)
    told = compare(first, second, LOOP, frequency_mhz=600).document()
    assert told["why"].count("wavelengths long") == len(told["reasons"]) == 1
    longer = compare(first, made("brass", length_mm=6100.0), LOOP, frequency_mhz=600).document()
    assert longer["why"].count("wavelengths long") == len(longer["reasons"]) == 2


def test_metals_make_little_at_resonance_and_much_of_a_small_loop():
    resonant = compare(made("copper"), made("brass"), LOOP, frequency_mhz=500)
    small = compare(made("copper"), made("brass"), LOOP, frequency_mhz=54)
    assert resonant.metal_difference_bound_db < 0.1
    assert small.metal_difference_db.value > 1.0


def test_another_length_makes_more_than_another_metal():
    metal = compare(made("copper"), made("brass"), LOOP, frequency_mhz=500, load_ohm=300)
    shape = compare(made("copper"), made("copper", length_mm=615.0), LOOP, frequency_mhz=500, load_ohm=300)
    assert abs(shape.geometry_difference_db.value) > metal.metal_difference_bound_db


def test_without_a_load_other_shapes_are_not_put_into_decibels():
    assert (
        compare(made("copper"), made("copper", 3.0), LOOP, frequency_mhz=500).geometry_difference_db is None
    )


def test_the_joint_that_costs_one_decibel_is_told():
    found = compare(made("copper"), made("brass"), DIPOLE, frequency_mhz=250)
    radiated = radiation(DIPOLE, made("copper"), 250).resistance_ohm
    assert 10 * math.log10(1 + found.joint_ohm_for_one_db / radiated) == pytest.approx(1.0, rel=1e-9)


def test_the_bound_takes_twice_the_smooth_loss_of_a_strip():
    """x = 2 (Rs2 - Rs1) L / (perimeter Rr) with Rr 100 ohm near resonance; 20 log10(1 + x) without a load."""
    copper, tin = (made(metal, 4.0, 600.0, form="strip") for metal in ("copper", "tin"))
    more = tin.surface_resistance_ohm(5e8).low - copper.surface_resistance_ohm(5e8).low
    found = compare(copper, tin, LOOP, frequency_mhz=500)
    assert found.valid
    wanted = 20 * math.log10(1 + 2 * more * 0.6 / 0.008 / 100)
    assert found.metal_difference_bound_db == pytest.approx(wanted, rel=1e-9)
