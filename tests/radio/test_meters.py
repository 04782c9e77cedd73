"""Units: scales, steps, margins, and what is beyond belief."""

import pytest

from service.radio.meters import UNIT_NAMES, unit_rules


def test_every_unit_is_known_by_its_name_alone():
    assert UNIT_NAMES == ("bars", "percent", "dB", "dBuV", "dBmV", "dBm")
    assert [unit_rules(unit).unit for unit in UNIT_NAMES] == list(UNIT_NAMES)
    with pytest.raises(KeyError):
        unit_rules("DBM")


def test_only_decibels_are_decibels():
    assert [unit for unit in UNIT_NAMES if unit_rules(unit).is_decibel] == ["dB", "dBuV", "dBmV", "dBm"]


@pytest.mark.parametrize(
    ("unit", "scale"), [("bars", (0, None, 1)), ("percent", (0, 100, 1)), ("dBm", (None, None, None))]
)
def test_the_usual_scale(unit, scale):
    rules = unit_rules(unit)
    assert (rules.lowest, rules.highest, rules.resolution) == scale


@pytest.mark.parametrize(
    ("unit", "least", "most"),
    [("dBm", -130, 30), ("dBmV", -80, 80), ("dBuV", -20, 130), ("dB", -60, 100), ("percent", 0, 100)],
)
def test_beyond_these_nothing_is_believed(unit, least, most):
    assert (unit_rules(unit).least, unit_rules(unit).most) == (least, most)


@pytest.mark.parametrize(
    ("unit", "lowest", "highest", "margin"),
    [
        ("bars", 0, 10, 0.5),
        ("bars", 2, 7, 0.25),
        ("bars", 0, None, 0.25),
        ("bars", 0, 5, 0.25),
        ("bars", 0, 40, 2.0),
        ("percent", 0, 100, 3.0),
        ("percent", 0, 50, 3.0),
        ("dB", None, None, 1.0),
        ("dBm", -90, -20, 1.0),
    ],
)
def test_the_margin_when_none_is_stated(unit, lowest, highest, margin):
    assert unit_rules(unit).default_margin(lowest, highest) == margin
