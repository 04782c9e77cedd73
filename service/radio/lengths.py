"""Lengths as people write them: 3.2 mm, 1/8 in, 2 ft 3 1/2 in, with ' and " for feet and inches too.

One inch is 25.4 mm exactly (international yard and pound, 1959; status: memory), a foot is 12 inches.
"""

import re
import unicodedata
from fractions import Fraction
from typing import Final

MM_PER_INCH: Final = 25.4
INCHES_IN_A_FOOT: Final = 12
EXAMPLES: Final = '"3.2 mm", "1/8 in", "0.125 in" or "2 ft 3 in"'
_INCH: Final = Fraction(254, 10)
_UNITS: Final = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    **dict.fromkeys(("in", "inch", "inches", '"'), _INCH),
}
_FEET: Final = ("ft", "foot", "feet", "'")
_SIGNS: Final = str.maketrans({"′": "'", "’": "'", "″": '"', "”": '"', "⁄": "/"})
_NUMBER: Final = r"\d{1,9}\.\d{1,15}|\.\d{1,15}|(?:\d{1,9}(?: |-))?\d{1,9}/\d{1,9}|\d{1,9}"
_ONE: Final = re.compile(rf"({_NUMBER}) ?({'|'.join(_UNITS)})", re.ASCII)
_IN_FEET: Final = re.compile(
    rf"({_NUMBER}) ?(?:{'|'.join(_FEET)})(?: ?({_NUMBER}) ?(?:in|inch|inches|\"))?", re.ASCII
)


def millimetres(text: str) -> float | None:
    """The length in mm; None for what cannot be read for certain: no unit, a comma, 12 inches beside feet."""
    written = _plain(text)
    one = _ONE.fullmatch(written)
    if one is not None:
        number = _number(one[1])
        return None if number is None else float(number * _UNITS[one[2]])
    both = _IN_FEET.fullmatch(written)
    if both is None:
        return None
    feet, inches = _number(both[1]), _number(both[2] or "0")
    if feet is None or inches is None or inches >= INCHES_IN_A_FOOT:
        return None
    if both[2] is not None and feet.denominator != 1:
        return None
    return float((feet * INCHES_IN_A_FOOT + inches) * _INCH)


def _plain(text: str) -> str:
    """Small letters, single spaces, plain signs; a fraction that is one character is spelt out."""
    spelt = [
        f" {unicodedata.normalize('NFKC', sign)}" if _is_fraction(sign) else sign for sign in text.lower()
    ]
    return " ".join("".join(spelt).translate(_SIGNS).split())


def _is_fraction(sign: str) -> bool:
    return unicodedata.decomposition(sign).startswith("<fraction>")


def _number(text: str) -> Fraction | None:
    """A decimal number, a fraction, or a whole number with a fraction below one; None for another."""
    whole, _, part = text.replace("-", " ").rpartition(" ")
    try:
        number = Fraction(part)
    except ZeroDivisionError:
        return None
    return Fraction(whole) + number if whole and number < 1 else None if whole else number
