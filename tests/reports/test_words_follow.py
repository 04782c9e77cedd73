"""Words follow what is compared and what the meter shows."""

import re

import pytest

from reports.wording.vocabulary import THINGS, UNITS
from service.radio.meters import unit_rules
from tests.reports import sample_documents as samples
from tests.reports import undrawn
from tests.reports.plain import visible

BARS = {"lowest": 0, "highest": 10, "resolution": 1, "needed": None, "impedance_ohm": None}


def page(document) -> str:
    return visible(undrawn.page(document))


@pytest.mark.parametrize("compares", [name for name in THINGS if name != "element"])
def test_a_report_on_something_else_does_not_speak_of_elements_or_metal(compares):
    document = samples.two_elements(compares=compares)
    for entry in document["trial"]["elements"]:
        for key in ("material", "form", "coating"):
            entry.pop(key, None)
    document["read_as"]["columns"] = []  # a column may well be headed "element"
    text = page(document)
    assert THINGS[compares].many in text
    assert not re.search(r"\belements?\b", text, re.IGNORECASE)
    assert "metal" not in text


@pytest.mark.parametrize("unit", UNITS)
def test_only_decibel_units_speak_of_decibels(unit):
    meter = {**BARS, "unit": unit}
    document = samples.two_elements(meter=meter)
    spoken = re.findall(r"\d[\d.]* dB", page(document))
    assert bool(spoken) == unit_rules(unit).is_decibel


@pytest.mark.parametrize("unit", ["bars", "percent"])
def test_a_scale_is_said_to_be_no_decibel_gain_or_efficiency(unit):
    text = page(samples.two_elements(meter={**BARS, "unit": unit}))
    assert "not a decibel" in text
    assert "It shows no decibels, gain or efficiency" in text


def test_a_difference_of_levels_is_in_db_and_the_level_in_its_own_unit():
    text = page(samples.db_meter())
    assert "average (dB\N{MICRO SIGN}V)" in text
    assert "behind by (dB)" in text
