"""What the text of a value means: a number, nothing found, not scanned, or a fault with its remedy."""

import math
import re
import string
from collections.abc import Iterable
from dataclasses import dataclass
from enum import IntEnum

from service.intake.marks import Marks, folded
from service.intake.spaces import plain_spaces
from service.intake.special_cells import special_detail
from service.intake.units import number_and_unit
from service.radio.decibels import level_shift, needs_impedance

POINT_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d{1,3})?", re.ASCII)
COMMA_NUMBER = re.compile(r"[+-]?\d+,\d+", re.ASCII)
MONTH = r"(jan|feb|mar|apr|may|mai|jun|jul|aug|sep|oct|okt|nov|dec|dez)[a-z]*"
REMEDIES = tuple(
    (re.compile(pattern, re.ASCII | re.IGNORECASE), detail)
    for pattern, detail in (
        (
            r"\d+\s*/\s*\d+",
            "A share is not read: write the first number alone and state the second once as the highest.",
        ),
        (
            r"\d{1,4}([-/.])\d{1,2}\1(\d{1,4}([ T].*)?)?|\d{1,2}-\d{1,2}"
            rf"|\d{{1,2}}[-. ]*{MONTH}([-. ]*\d{{1,4}})?|{MONTH}[-. ]*\d{{1,4}}",
            "This is a date. A spreadsheet took a number such as 7/10 or 7.10 for a day: set the column to "
            "numbers and type the value again.",
        ),
        (
            r"\d{1,2}:\d{2}(:\d{2}(\.\d+)?)?",
            "This is a time of day. A spreadsheet took a number such as 7:10 for one: set the column to "
            "numbers and type the value again.",
        ),
        (
            r"[+-]?\d{1,3}([.,' ]\d{3})+[.,]\d+",
            "Points and commas are mixed in this number: write it with one decimal mark and nothing else.",
        ),
        (r"[#=].*", "This is a formula or an error cell of a spreadsheet: mend it and save the values."),
        (
            r"[+-]?(nan|inf|infinity)",
            "This is no reading: leave the cell empty where nothing was found, else write not scanned.",
        ),
    )
)
"""What often stands in the place of a number, and what to do about it; the first pattern that fits counts."""
NOTHING = float("nan")
TYPOGRAPHIC_MINUS = str.maketrans(dict.fromkeys("−–\u2010\u2011\ufe63\uff0d", "-"))
"""Signs that stand for a minus: the minus itself, the en dash, the hyphens that do not break, wide ones."""
NEVER_FIRST = frozenset(string.ascii_letters)
"""Signs that no number begins with, so that nothing more of such a text is looked at."""
LONGEST = 200
"""A text beyond this is not looked into: it is neither a number nor a mark."""
TOO_LONG = f"This is longer than {LONGEST} characters: write the number alone."
TOO_LARGE = "This number is too large to be a reading: mend it."


class State(IntEnum):
    """What a cell holds."""

    NUMBER = 0
    NOTHING_FOUND = 1
    BLANK = 2
    NOT_SCANNED = 3
    FAULTY = 4


@dataclass(frozen=True)
class Meaning:
    """What a text means: its state, its number in meter units (NaN: none) and why it is refused."""

    state: State
    number: float = NOTHING
    detail: str = ""


def decimal_mark(texts: Iterable[str], *, separator: str | None) -> str:
    """The decimal mark of a file: "." or ",", or "" where both occur among its values.

    A comma is a decimal mark only where it does not separate the cells and digits stand on both sides of it.
    """
    if separator == ",":
        return "."
    commas, points = False, False
    for text in map(_bare, (each for each in texts if len(each) <= LONGEST)):
        commas = commas or COMMA_NUMBER.fullmatch(text) is not None
        points = points or ("." in text and POINT_NUMBER.fullmatch(text) is not None)
    return "." if not commas else "" if points else ","


def meaning(text: str, marks: Marks, mark: str, *, unit: str | None = None) -> Meaning:
    """The meaning of a text without spaces around it in a file of the decimal mark `mark`.

    `unit` is that of the file (None: not known, so that any is taken).
    """
    state, number = state_and_number(text, marks, mark, unit=unit)
    if state is not State.FAULTY:
        return Meaning(state, number)
    return Meaning(state, detail=_why_refused(text, mark, unit=unit))


def state_and_number(text: str, marks: Marks, mark: str, *, unit: str | None = None) -> tuple[State, float]:
    """The same without why a text is refused, which takes much longer to find than that it is."""
    if not text:
        return State.BLANK, NOTHING
    if len(text) > LONGEST:
        return State.FAULTY, NOTHING
    state = _marked(text, marks)
    if state is not None:
        return state, NOTHING
    if POINT_NUMBER.fullmatch(text):
        return _finite(text)
    if text[0] in NEVER_FIRST or special_detail(text) is not None:
        return State.FAULTY, NOTHING
    return _with_unit(text, mark, unit=unit)


def _with_unit(text: str, mark: str, *, unit: str | None) -> tuple[State, float]:
    """State and number of a text that may have a unit, a decimal comma or other signs in it."""
    plain, named = _point_number(text, mark)
    if not POINT_NUMBER.fullmatch(plain) or (named is not None and unit is not None and named != unit):
        return State.FAULTY, NOTHING
    return _finite(plain)


def _finite(number: str) -> tuple[State, float]:
    value = float(number) + 0.0  # makes -0.0 the 0.0 that it equals
    return (State.NUMBER, value) if math.isfinite(value) else (State.FAULTY, NOTHING)


def _point_number(text: str, mark: str) -> tuple[str, str | None]:
    """The number in a text, a comma that is the decimal mark made a point, and the unit behind it."""
    number, named = number_and_unit(_plain(text))
    return number.replace(",", ".") if mark == "," and COMMA_NUMBER.fullmatch(number) else number, named


def _why_refused(text: str, mark: str, *, unit: str | None) -> str:
    """What is wrong with a faulty text, and the remedy."""
    if len(text) > LONGEST:
        return TOO_LONG
    plain, named = _point_number(text, mark)
    if special_detail(text) is not None or not POINT_NUMBER.fullmatch(plain):
        return special_detail(text) or _comma_remedy(plain, mark) or remedy(_plain(text))
    if not math.isfinite(float(plain)):
        return TOO_LARGE
    return _unit_remedy(str(named), str(unit))


def _marked(text: str, marks: Marks) -> State | None:
    """The state that a text without a number stands for, None for any other."""
    mark = folded(text)
    if mark in marks.lost:
        return State.NOTHING_FOUND
    return State.NOT_SCANNED if mark in marks.unscanned else None


def _plain(text: str) -> str:
    """The text with plain spaces and a plain minus."""
    return text if text.isascii() else plain_spaces(text).translate(TYPOGRAPHIC_MINUS)


def _bare(text: str) -> str:
    """The number in a text, without its unit."""
    return number_and_unit(_plain(text))[0]


def remedy(text: str) -> str:
    """What is wrong with a text that is no number, and what to write instead."""
    for pattern, detail in REMEDIES:
        if pattern.fullmatch(text):
            return detail
    mark = text[:20]
    return (
        f"Neither a number nor a mark that is understood. If {mark} means that nothing was found, name it: "
        f"nothing_found={mark}. If it means that the channel was not scanned: not_scanned={mark}."
    )


def _unit_remedy(named: str, unit: str) -> str:
    joined = needs_impedance(named, unit) or level_shift(named, unit, None) is not None
    once = (
        f"say so once in the heading: value ({named})" if joined else f"state the unit {named} for the meter"
    )
    return (
        f"This cell is in {named}, the readings are in {unit}. Write the number alone where it is in {unit}; "
        f"where all are in {named}, {once}."
    )


def _comma_remedy(text: str, mark: str) -> str | None:
    if not COMMA_NUMBER.fullmatch(text):
        return None
    with_point = text.replace(",", ".")
    if mark == "":
        return f"The file has decimal points too. Use one decimal mark throughout, here {with_point}."
    return (
        "A decimal comma cannot be told from the separator of a comma file: write "
        f"{with_point}, or save the file with semicolons."
    )
