"""The trial as a value."""

import pytest

from service.trial.trial import (
    Channel,
    Cost,
    Element,
    Gauge,
    KnownRepeatability,
    Meter,
    Strike,
    Trial,
)

KEYS = [
    "title", "meter", "margin", "confidence", "planned_rounds", "looks", "reference", "region", "seed",
    "compares", "elements", "channels", "struck", "known_repeatability", "minutes_per_run", "taken_by",
    "site",
]  # fmt: skip


@pytest.mark.parametrize(
    ("element", "role"),
    [
        (Element("a"), "competes"),
        (Element("a", twin_of="b"), "twin"),
        (Element("a", pad_of="b", pad_db=3.0), "pad"),
    ],
)
def test_the_role_of_an_element(element, role):
    assert element.role == role


def test_a_label_left_out_is_the_id():
    assert (Element("a").label, Channel("x").label) == ("a", "x")
    assert (Element("a", "rod").label, Channel("x", label="One").label) == ("rod", "One")


def test_the_price_of_an_element():
    per_metre = Cost(2.0, "EUR")
    assert Element("a", cost=Cost(4.2, "EUR")).price == Cost(4.2, "EUR")
    assert Element("a", cost_per_metre=per_metre, length_mm=690).price == Cost(1.38, "EUR")
    assert Element("a", cost_per_metre=per_metre).price is None
    assert Element("a").price is None


def test_the_document_has_every_field_in_order():
    document = Trial(meter=Meter("bars", 0.0)).document()
    assert list(document) == KEYS
    assert list(document["meter"]) == ["unit", "lowest", "highest", "resolution", "needed", "impedance_ohm"]
    assert (document["title"], document["known_repeatability"], document["elements"]) == (None, None, [])


def test_entries_carry_what_was_given_and_the_label():
    trial = Trial(
        meter=Meter("dB"),
        elements=(Element("a", gauge=Gauge("swg", 13), cost=Cost(1.0, "EUR")),),
        channels=(Channel("x", "27"), Channel("y")),
        struck=(Strike("a", 2, "wind"),),
        known_repeatability=KnownRepeatability(0.3, 9, ("27",), "remounts"),
    )
    document = trial.document()
    assert document["elements"] == [
        {
            "id": "a",
            "label": "a",
            "gauge": {"table": "swg", "number": 13},
            "cost": {"amount": 1.0, "currency": "EUR"},
        }
    ]
    assert document["channels"] == [{"id": "x", "rf_channel": "27", "label": "x"}, {"id": "y", "label": "y"}]
    assert document["struck"] == [{"element": "a", "round": 2, "reason": "wind"}]
    assert document["known_repeatability"] == {
        "sd": 0.3, "degrees_of_freedom": 9, "rf_channels": ["27"], "from": "remounts",
    }  # fmt: skip
