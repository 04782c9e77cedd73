"""All rounding and all number words of a report; nothing else in `reports` may round.

An estimate is rounded to the place of the second significant digit of its uncertainty, and only here, at the
very end: outcomes were reached on unrounded numbers. Source: ISO/IEC Guide 98-3 (GUM) 7.2.6, from memory.
The marks within a number are those of the locale (see `reports.locales`), the words those of its language.
Ties go to the even digit, on the shortest decimal that reads back as the same float.
"""

import math
from decimal import ROUND_HALF_EVEN, Decimal

from reports.language import say, say_number
from reports.locales import spoken

MINUS = "\N{MINUS SIGN}"
NARROW_SPACE = "\N{NARROW NO-BREAK SPACE}"
DASH = "\N{EN DASH}"
MOST_PLACES = 6
FEWEST_PLACES = -6
_NOTHING = 1e-9  # hours that a sum of minutes may come out too long by


def places_of(uncertainty: float | None) -> int | None:
    """Decimal places at the second significant digit of an uncertainty; None where it is None or 0."""
    if uncertainty is None or not math.isfinite(uncertainty) or uncertainty <= 0:
        return None
    exponent = int(f"{uncertainty:.1e}".split("e")[1])
    return min(MOST_PLACES, max(FEWEST_PLACES, 1 - exponent))


def fixed(value: float, places: int) -> str:
    """The value with so many decimals (negative: tens, hundreds), a typographic minus, never before 0."""
    exact = Decimal(repr(float(value)))
    rounded = exact.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_EVEN)
    return _typographic(f"{rounded:f}")


def estimate(value: float | None, uncertainty: float | None) -> str:
    """The value, rounded to the second significant digit of its uncertainty; "" where there is no value."""
    if value is None:
        return ""
    places = places_of(uncertainty)
    return plain(value) if places is None else fixed(value, places)


def seen(value: float | None, step: float | None) -> str:
    """A number without an uncertainty, rounded to a tenth of the meter's step; "" where there is none."""
    text, mark = estimate(value, step), spoken().decimal
    return text.rstrip("0").rstrip(mark) if mark in text else text


def signed(value: float | None, uncertainty: float | None) -> str:
    """As `estimate`, with a plus sign before what is above zero."""
    text = estimate(value, uncertainty)
    above = value is not None and value > 0 and any(digit in text for digit in "123456789")
    return f"+{text}" if above else text


def half_width(low: float | None, high: float | None) -> float | None:
    """Half the width of an interval: the uncertainty its middle is rounded by."""
    return None if low is None or high is None else (high - low) / 2


def between(low: float | None, high: float | None) -> str:
    """Both ends of an interval at the place of its half-width; "" where an end is missing."""
    if low is None or high is None:
        return ""
    width = half_width(low, high)
    return say("{low} to {high}", low=estimate(low, width), high=estimate(high, width))


def plain(value: float) -> str:
    """A number that was stated, or has no uncertainty: at most six significant digits, no exponent."""
    rounded = Decimal(f"{float(value):.6g}")
    text = f"{rounded:f}"
    return _typographic(text.rstrip("0").rstrip(".") if "." in text else text)


def count(number: float) -> str:
    """A count, thousands set apart; one decimal where it is an average."""
    rounded = round(float(number), 1)
    text = f"{rounded:,.0f}" if rounded == int(rounded) else f"{rounded:,.1f}"
    return _typographic(text)


def two_digits(value: float) -> str:
    """A quantity that is itself an uncertainty: two significant digits."""
    places = places_of(abs(value))
    return "0" if places is None else fixed(value, places)


def probability(p: float | None) -> str:
    """A p-value: two decimals from 0.1 on, three from 0.01 on, then four, never an exact zero."""
    if p is None:
        return ""
    if p < 0.0001:
        return f"< {fixed(0.0001, 4)}"
    places = 2 if p >= 0.1 else 3 if p >= 0.01 else 4
    return fixed(p, places)


def in_a_hundred(share: float) -> str:
    """A share as a plain number of cases in a hundred: 0.05 is "5", 0.025 is "2.5"."""
    return _typographic(f"{Decimal(f'{share * 100:.3g}'):f}")


def in_a_thousand(share: float) -> str:
    """A share as a whole number of cases in a thousand: 0.0168 is "17"; "under 1" where it is less."""
    return say("under 1") if 0 < share < 0.0005 else fixed(share * 1000, 0)


def per_cent(share: float) -> str:
    """A share of one in per cent, with no more than one decimal: 0.95 is "95 %"."""
    return f"{plain(round(share * 100, 1))} %"


def duration(hours: float) -> str:
    """A time on site, as coarse as anybody plans it: "about 40 minutes", "about 3.5 hours"."""
    return say("about {time}", time=time(hours))


def time(hours: float) -> str:
    """The same without "about", where that is said before; never too short.

    Up to five minutes, half hours and, from ten on, whole hours.
    """
    if hours <= 55 / 60 + _NOTHING:
        return minutes(max(5, 5 * math.ceil(hours * 12 - _NOTHING)))
    rounded = math.ceil(hours * 2 - _NOTHING) / 2 if hours < 10 else float(math.ceil(hours - _NOTHING))
    return say_number("{number} hour", "{number} hours", rounded, number=plain(rounded))


def minutes(number: float) -> str:
    """A time in minutes as it was given or reckoned: "6 minutes"."""
    return say_number("{number} minute", "{number} minutes", number, number=plain(number))


def number_of(number: float, one: str, many: str) -> str:
    """A count with its noun: "1 round", "6 rounds". The noun is said here, by the plurals of the language."""
    text = count(number)
    return f"{text} {say_number(one, many, 1 if text == '1' else number)}"


def counted_as(shown: str) -> float:
    """What a number, as it is shown, counts as before a noun: only "1" is one; "1.0" and "+1" are several."""
    locale, bare = spoken(), shown.lstrip(f"+{MINUS}")
    number = float(bare.replace(locale.group, "").replace(locale.decimal, "."))
    return 2.0 if number == 1 and shown.lstrip(MINUS) != "1" else number


def _typographic(text: str) -> str:
    """A number as Python writes it, "-1,024.5", with the marks of the locale and a typographic minus."""
    locale = spoken()
    bare = text.lstrip("-").translate({ord("."): locale.decimal, ord(","): locale.group})
    return MINUS + bare if text.startswith("-") and any(digit in bare for digit in "123456789") else bare
