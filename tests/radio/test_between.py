"""Quantities that are known, and quantities of which only the ends are."""

import pytest

from service.radio.between import Between, exactly, spanning


def test_what_is_known_is_one_number():
    assert exactly(2.5).value == 2.5
    assert exactly(0.0).value == 0.0


def test_ends_within_a_hundredth_are_told_as_their_middle():
    assert Between(0.995, 1.0).value == pytest.approx(0.9975)
    assert Between(-1.0, -0.995).value == pytest.approx(-0.9975)


@pytest.mark.parametrize(("low", "high"), [(0.98, 1.0), (-0.01, 0.01), (0.0, 1e-6)])
def test_ends_further_apart_are_never_one_number(low, high):
    assert Between(low, high).value is None


def test_a_span_holds_all_and_a_factor_moves_both_ends():
    assert spanning([3.0, 1.0, 2.0]) == Between(1.0, 3.0)
    assert Between(1.0, 2.0).times(3.0) == Between(3.0, 6.0)
    assert Between(1.0, 2.0).times(1.0, 2.0).document() == {"low": 1.0, "high": 4.0}
