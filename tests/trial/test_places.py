"""How a fault tells its place and what was given there."""

import json
import math

import pytest

from service.trial.places import brief, pointer


def test_a_pointer_is_escaped_as_a_json_pointer_and_as_a_fragment():
    assert pointer() == "#"
    assert pointer("readings", 12, "value") == "#/readings/12/value"
    assert pointer("a/b~c d%é") == "#/a~1b~0c%20d%25%C3%A9"
    assert pointer("") == "#/"


def test_a_step_that_only_an_unknown_key_can_be_is_cut():
    assert pointer("trial", "~" * 81) == "#/trial/" + "~0" * 80 + "%E2%80%A6"
    assert pointer("trial", "~" * 80) == "#/trial/" + "~0" * 80


@pytest.mark.parametrize("value", [None, True, 0, -1.5, 2**53 - 1, "x", "x" * 80])
def test_what_json_carries_is_told_as_it_is(value):
    assert brief(value) is value or brief(value) == value


@pytest.mark.parametrize(
    ("value", "told"),
    [
        (math.inf, "inf"),
        (2**53, "9007199254740992"),
        ([1], "a list"),
        ({}, "an object"),
        ("x" * 81, "x" * 80 + "…"),
        ("\ud800", "?"),
    ],
)
def test_what_json_cannot_carry_or_is_long_is_told_in_short(value, told):
    assert brief(value) == told
    json.dumps(brief(value), allow_nan=False).encode()
