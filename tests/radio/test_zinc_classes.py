"""Classes of zinc on wire: the least masses of the tables, and nothing beyond them."""

import pytest

from service.radio.between import Between
from service.radio.coatings import THICKEST_UM, coating, coating_words, readable
from service.radio.zinc_classes import CLASSES, REGULAR, zinc_class
from tests.radio.facts import FACTS

# ASTM A641-09a table 1 by a poorly scanned copy, the 0.40 of class 1 partly from memory; status secondary.
ZINC = FACTS["zinc_coating"]
A641 = [(float(inch), masses) for inch, masses in ZINC["ASTM_A641_min_oz_ft2"].items()]
# EN 10244-2 and ISO 7989-2, class A: least g/m2 from a diameter in mm on; status memory.
CLASS_A = [(1.85, 215), (2.0, 215), (2.15, 230), (2.5, 245), (2.8, 255), (3.2, 265), (3.8, 275), (4.4, 280),
           (5.2, 290), (8.2, 290)]  # fmt: skip


@pytest.mark.parametrize(("inch", "masses"), A641)
def test_the_least_masses_of_astm_a641_are_those_of_the_table(inch, masses):
    for number, ounces in zip((1, 3), masses, strict=True):
        found = coating("steel", f"ASTM A641 class {number}", diameter_mm=inch * 25.4)
        assert found.thickness_um.low == pytest.approx(ZINC["ASTM_A641_um"][f"{ounces:.2f}"], abs=0.051)
        assert found.thickness_um.high == THICKEST_UM
        assert "secondary" in found.status
        assert "memory" in found.status


@pytest.mark.parametrize(("diameter_mm", "grams"), CLASS_A)
@pytest.mark.parametrize("standard", ["en 10244-2", "iso 7989-2"])
def test_class_a_of_the_european_standard_says_that_it_is_from_memory(standard, diameter_mm, grams):
    found = coating("steel", f"zinc {standard} class a", diameter_mm=diameter_mm)
    assert found.thickness_um.low == pytest.approx(grams / 7.14, rel=1e-12)
    assert found.status == "memory"
    assert "class A" in found.source


def test_between_two_diameters_the_thinner_wire_s_mass_is_promised():
    known = zinc_class("astm a641 class 1")
    assert known.least_g_per_m2(2.3) == known.least_g_per_m2(0.076 * 25.4)
    assert known.least_g_per_m2(0.0761 * 25.4) < known.least_g_per_m2(0.099 * 25.4)


@pytest.mark.parametrize("known", CLASSES, ids=lambda known: known.name)
def test_beyond_its_diameters_a_class_promises_nothing_that_is_known_here(known):
    first, last = known.steps[0][0], known.ends_mm
    assert known.least_g_per_m2(first) is not None
    assert known.least_g_per_m2(last) is not None
    assert known.least_g_per_m2(first - 0.01) is known.least_g_per_m2(last + 0.01) is None
    assert [step[1] for step in known.steps] == sorted(step[1] for step in known.steps)
    assert f"{first:.2f} to {last:.2f} mm" == known.diameters


def test_the_regular_class_promises_nothing():
    assert "NO minimum mass" in ZINC["ASTM_A641_regular"]
    found = coating("steel", f"Zinc, {REGULAR}", diameter_mm=3.0)
    assert found.thickness_um == Between(0.0, THICKEST_UM)
    assert found.status == "secondary"


def test_without_a_diameter_the_metal_is_known_and_its_thickness_is_not():
    assert coating("steel", "astm a641 class 3").thickness_um == Between(0.0, THICKEST_UM)


@pytest.mark.parametrize(
    "written",
    ["astm a641 class 2", "astm a641", "class 3", "astm a475 class a", "en 10244-2 class b", "class a"],
)
def test_classes_that_are_not_known_are_refused_with_those_that_are(written):
    assert not readable(written)
    for known in CLASSES:
        assert readable(known.name)
        assert known.name in coating_words()


def test_a_coating_is_told_with_where_its_thickness_comes_from():
    assert coating("steel", "zinc 20 um").document() == {
        "name": "zinc",
        "thickness_um": {"low": 20.0, "high": 20.0},
        "source": "as stated; a mass by the density of the metal",
        "status": "stated",
    }
    assert coating("tinned copper", None).status == "a judgement"
