"""Coatings as they are written, and the thickness of zinc from its mass."""

import pytest

from service.radio.between import Between, exactly
from service.radio.coatings import (
    THICKEST_UM,
    ZINC_KG_PER_M3,
    coating,
    coating_words,
    readable,
)
from service.radio.zinc_classes import GRAMS_PER_M2_IN_AN_OUNCE_PER_FT2
from tests.radio.facts import FACTS

# ISO 1461:2009 and ASTM A641-09a by secondary tables; status secondary.
ZINC = FACTS["zinc_coating"]


@pytest.mark.parametrize(
    ("ounces", "micrometres"), [(float(oz), um) for oz, um in ZINC["ASTM_A641_um"].items()]
)
def test_ounces_a_square_foot_are_the_micrometres_of_the_table(ounces, micrometres):
    found = coating("steel", f"zinc {ounces} oz/ft2")
    assert found.thickness_um.value == pytest.approx(micrometres, abs=0.051)


def test_grams_a_square_metre_go_by_the_density():
    assert ZINC["density_kg_m3"] == ZINC_KG_PER_M3
    assert coating("steel", "zinc 71.4 g/m2").thickness_um.value == pytest.approx(10.0, rel=1e-12)
    assert pytest.approx(305.15, abs=0.01) == GRAMS_PER_M2_IN_AN_OUNCE_PER_FT2


def test_zinc_of_which_nothing_is_said_lies_from_none_to_the_thickest_mean_of_the_standard():
    """Wire of the regular class has no least mass."""
    thickest = max(mean for _, mean in ZINC["ISO1461_2009_Table3_not_centrifuged"].values())
    assert thickest == THICKEST_UM
    assert "NO minimum mass" in ZINC["ASTM_A641_regular"]
    assert coating("steel", "zinc").thickness_um == Between(0.0, THICKEST_UM)


@pytest.mark.parametrize("written", ["zinc 20 um", "Zinc 20 µm", "zinc  20um", "zinc 20 μm"])
def test_a_thickness_is_read_as_it_may_be_written(written):
    assert coating("steel", written).thickness_um == exactly(20.0)


def test_the_name_of_a_material_may_say_its_coating_and_what_is_stated_wins():
    assert coating("Zinc-coated steel", None).material.name == "zinc"
    assert coating("zinc-coated steel", "zinc 12 um").thickness_um == exactly(12.0)
    assert coating("tinned copper", None).material.name == "tin"
    assert coating("steel", None) is None


@pytest.mark.parametrize("written", ["enamel", "PVC", "none", "bare"])
def test_what_carries_no_current_is_no_metal_coating(written):
    assert readable(written)
    assert coating("copper", written) is None


@pytest.mark.parametrize(
    "written",
    [
        "mud",
        "zinc 20",
        "zinc 20 mm",
        "20 um",
        "zinc -3 um",
        "copper 20 g/m2",
        "enamel 20 um",
        "",
        "zinc 2e400 um",
    ],
)
def test_what_is_not_understood_is_not_guessed(written):
    assert not readable(written)


def test_what_may_be_written_is_told():
    assert "zinc 275 g/m2" in coating_words()
    assert "enamel" in coating_words()
