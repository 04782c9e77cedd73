"""From an element to its conductor, or to what is wanting."""

import pytest

from service.radio.conductor import Conductor
from service.trial.element_conductor import conductor_of, diameter_mm, round_diameter_mm
from service.trial.trial import Element, Gauge

COPPER = {"id": "a", "material": "copper", "diameter_mm": 2.0, "length_mm": 600.0}


def wanting(**changes):
    found = conductor_of(Element(**{**COPPER, **changes}))
    assert not isinstance(found, Conductor)
    return {each.field: each.detail for each in found}


def test_an_element_that_says_all_is_a_conductor_and_a_wire_unless_it_says_otherwise():
    found = conductor_of(Element(**COPPER))
    assert (found.material.name, found.coating, found.form) == ("copper", None, "wire")
    assert conductor_of(Element(**COPPER, form="strip")).form == "strip"


def test_a_gauge_with_its_table_gives_the_diameter_and_a_stated_diameter_wins():
    gauge = Gauge("swg", 13)
    element = Element(**{**COPPER, "diameter_mm": None}, gauge=gauge)
    assert conductor_of(element).diameter_mm == pytest.approx(2.3368)
    assert diameter_mm(Element(**COPPER, gauge=gauge)) == 2.0


def test_a_bare_gauge_number_is_told_with_all_that_it_may_mean():
    said = wanting(diameter_mm=None, gauge=Gauge(None, 13))["gauge"]
    assert "1.83 mm in awg, 2.32 mm in steel wire, 2.34 mm in swg, 2.41 mm in birmingham" in said


def test_a_gauge_beyond_its_table_is_told_with_what_is_known():
    assert "8 to 18" in wanting(diameter_mm=None, gauge=Gauge("swg", 30))["gauge"]


def test_everything_that_is_wanting_is_told_at_once():
    assert set(wanting(material="unobtainium", coating="mud", diameter_mm=None, length_mm=None)) == {
        "material",
        "coating",
        "diameter_mm",
        "length_mm",
    }


def test_a_class_of_zinc_is_taken_at_the_diameter_of_the_wire():
    fence = {"id": "a", "material": "steel", "coating": "astm a641 class 3", "length_mm": 600.0}
    found = conductor_of(Element(**fence, diameter_mm=3.0))
    assert found.coating.thickness_um.low == pytest.approx(34.2, abs=0.05)
    assert found.coating.thickness_um.high == 85.0


def test_a_class_of_zinc_that_does_not_go_to_the_diameter_is_told_with_the_remedy():
    said = wanting(material="steel", coating="en 10244-2 class a", diameter_mm=1.2)
    assert set(said) == {"coating"}
    assert "1.85 to 8.20 mm are known here; this is 1.20 mm" in said["coating"]
    assert "zinc 275 g/m2" in said["coating"]


def test_a_strip_counts_as_a_round_wire_of_half_its_width():
    """Balanis, Antenna Theory, chapter 9: equivalent radius w / 4; status memory."""
    strip = Element(**{**COPPER, "diameter_mm": 10.0}, form="strip")
    assert round_diameter_mm(strip) == 5.0
    assert conductor_of(strip).radius_m == pytest.approx(2.5e-3, rel=1e-12)
    assert round_diameter_mm(Element(**COPPER)) == 2.0
    assert round_diameter_mm(Element(id="a", form="strip")) is None


def test_unknown_materials_are_told_with_those_that_are_known():
    assert "phosphor bronze" in wanting(material="unobtainium")["material"]
    assert "phosphor bronze" in wanting(material=None)["material"]


def test_a_length_given_elsewhere_stands_in_for_the_elements_own():
    assert conductor_of(Element(**{**COPPER, "length_mm": None}), length_mm=700.0).length_mm == 700.0
    assert conductor_of(Element(**COPPER), length_mm=700.0).length_mm == 600.0
