"""Lengths as they are written; one inch is 25.4 mm (international yard and pound, 1959; status: memory)."""

import pytest

from service.radio.lengths import EXAMPLES, millimetres


@pytest.mark.parametrize(
    ("written", "mm"),
    [
        ("3.2 mm", 3.2), ("0.123456789012345 m", 123.456789012345),
        ("69cm", 690), ("0.69 m", 690), (".5 in", 12.7),
        ("1/8 in", 3.175), ("0.125 in", 3.175), ("1 1/8 inch", 28.575), ("1-1/8 inches", 28.575),
        ("½ in", 12.7), ("1½\"", 38.1), ("1 ⅛ in", 28.575), ("1⁄8 in", 3.175),
        ("2 ft", 609.6), ("1 foot", 304.8), ("1.5 ft", 457.2), ("2 ft 3 in", 685.8),
        ("2 feet 3 1/2 in", 698.5),
        ("5' 3\"", 1600.2), ("5′3″", 1600.2), ("5’ 3”", 1600.2), ("  2   FT  3 In ", 685.8),
    ],
)  # fmt: skip
def test_a_length_is_read_with_its_unit_to_the_last_digit(written, mm):
    """A foot is 12 inches; the wanted numbers are worked out by hand from 25.4."""
    assert millimetres(written) == pytest.approx(mm, rel=1e-15)


@pytest.mark.parametrize(
    "written",
    [
        "", "3", "1/8", "mm", "3,2 mm", "1.024,5 mm", "-3 mm", "+3 mm", "3 mil", "3 thou", "13 swg", "3 yd",
        "1e3 mm", "٣ mm", "1_0 mm", "1/0 in", "1 9/8 in", "1 8/8 in", "1/8/2 in", "2 ft 3", "2 ft 12 in",
        "1.5 ft 3 in", "1/2 ft 3 in", "2 in 3 ft", "2 ft 3 in 4 in", "3 mm 2", "about 3 mm", "²in",
        "1/0 ft", "2 ft 1/0 in", "1234567890 mm", "nan mm", "inf m",
    ],
)  # fmt: skip
def test_what_is_not_clear_is_not_guessed(written):
    assert millimetres(written) is None


def test_the_examples_that_a_fault_gives_are_read():
    assert [millimetres(part.strip('" or,')) for part in EXAMPLES.split('"')[1::2]] == [
        3.2, 3.175, 3.175, 685.8
    ]  # fmt: skip
