"""Rounding: to the second digit of the uncertainty, at the end only, half to even."""

import pytest

from reports import numerals


@pytest.mark.parametrize(
    ("value", "uncertainty", "printed"),
    [
        (100.02147, 0.00035, "100.02147"),  # the mass standard of GUM 7.2.2, from memory
        (10.05762, 0.027, "10.058"),  # GUM 7.2.6: 10.057 62 ohm with 27 milliohm becomes 10.058, from memory
        (1.2345, 0.42, "1.23"),
        (1.2345, 4.2, "1.2"),
        (1234.5, 420.0, "1230"),
        (0.12345, 0.0996, "0.12"),  # the uncertainty itself rounds to 0.10
        (0.125, 0.42, "0.12"),  # half to even
        (0.135, 0.42, "0.14"),
        (-0.004, 0.42, "0.00"),  # no minus before nothing
        (-1.5, 0.42, "−1.50"),
        (7.0, None, "7"),
        (7.25, 0.0, "7.25"),
        (None, 0.42, ""),
    ],
)
def test_an_estimate_ends_at_the_second_digit_of_its_uncertainty(value, uncertainty, printed):
    assert numerals.estimate(value, uncertainty) == printed


def test_both_ends_of_an_interval_end_at_the_place_of_its_half_width():
    assert numerals.between(-0.12349, 0.9) == "−0.12 to 0.90"
    assert numerals.between(None, 0.9) == ""


def test_a_plus_stands_before_what_is_above_zero_and_not_before_what_rounds_to_it():
    assert numerals.signed(0.61234, 0.3) == "+0.61"
    assert numerals.signed(0.001, 0.3) == "0.00"
    assert numerals.signed(-0.61234, 0.3) == "−0.61"


@pytest.mark.parametrize(
    ("p", "printed"),
    [
        (1.0, "1.00"),
        (0.1234, "0.12"),
        (0.03125, "0.031"),
        (0.0041, "0.0041"),
        (0.00005, "< 0.0001"),
        (0.0, "< 0.0001"),
        (None, ""),
    ],
)
def test_a_p_value_is_never_printed_as_zero(p, printed):
    assert numerals.probability(p) == printed


@pytest.mark.parametrize(
    ("value", "printed"), [(0.1 + 0.2, "0.3"), (0.5, "0.5"), (12.0, "12"), (1e6, "1000000"), (-2.5, "−2.5")]
)
def test_a_stated_number_is_printed_as_it_was_meant(value, printed):
    assert numerals.plain(value) == printed


@pytest.mark.parametrize(
    ("hours", "said"),
    [
        (0.2, "about 15 minutes"),
        (0.66, "about 40 minutes"),
        (0.99, "about 1 hour"),
        (1.2, "about 1.5 hours"),
        (1.5, "about 1.5 hours"),
        (3 * 0.1 + 1.2, "about 1.5 hours"),  # 1.5000000000000002
        (3.4, "about 3.5 hours"),
        (11.1, "about 12 hours"),
        (11.6, "about 12 hours"),
    ],
)
def test_time_on_site_is_as_coarse_as_anybody_plans_it(hours, said):
    assert numerals.duration(hours) == said


def test_error_rates_are_said_in_a_hundred_without_the_dust_of_floats():
    assert numerals.in_a_hundred(1.0 - 0.95) == "5"
    assert numerals.in_a_hundred(1.2 * (1.0 - 0.95)) == "6"
    assert numerals.in_a_hundred(1.0 - 0.975) == "2.5"


def test_counts_set_thousands_apart():
    assert numerals.count(19999) == "19\u202f999"
    assert numerals.count(20.83) == "20.8"
    assert numerals.number_of(1, "round", "rounds") == "1 round"
