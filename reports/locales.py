"""How a place writes numbers and dates, on what paper it prints, and which language it speaks.

The locale of a report holds while it is made: `speaking` sets it for the present context, `reports.numerals`
and `reports.dates` ask `spoken`, and so does `reports.language` for the words. Source of marks and order of
dates: Unicode CLDR (the tests hold them against it); thousands in en-GB are set apart by a narrow space, as
the SI Brochure has it (9th edition, 5.4.4, from memory).
"""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True)
class Locale:
    """language: its tag (BCP 47). decimal and group: the marks within a number.

    day and days: the patterns of a date and of two days of one month, with the words that stand between.
    """

    language: str
    decimal: str
    group: str
    day: str
    days: str
    paper: str


_DAY_FIRST: Final = ("{day} {month} {year}", "{day} to {last} {month} {year}")
DEFAULT: Final = "en-GB"
LOCALES: Final[Mapping[str, Locale]] = {
    DEFAULT: Locale("en", ".", "\N{NARROW NO-BREAK SPACE}", *_DAY_FIRST, "a4"),
    "en-US": Locale("en-US", ".", ",", "{month} {day}, {year}", "{month} {day} to {last}, {year}", "letter"),
    "en-DE": Locale("en", ",", ".", *_DAY_FIRST, "a4"),
}
_SPOKEN: Final = ContextVar("locale", default=LOCALES[DEFAULT])


def locale_of(name: str) -> Locale:
    """The locale of that name; ValueError, naming those there are, for another."""
    if name not in LOCALES:
        raise ValueError(f"locale {name!r} is not known; there are {', '.join(LOCALES)}")
    return LOCALES[name]


def spoken() -> Locale:
    """The locale of the report that is being made, the default one elsewhere."""
    return _SPOKEN.get()


@contextmanager
def speaking(name: str) -> Iterator[Locale]:
    """The locale of that name holds within. ValueError for one that is not known."""
    token = _SPOKEN.set(locale_of(name))
    try:
        yield _SPOKEN.get()
    finally:
        _SPOKEN.reset(token)
