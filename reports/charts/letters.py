"""Text in pictures: how much room it takes, how it is cut or broken, and which signs the face has."""

import re
from functools import cache, lru_cache
from typing import Any, Final

from reports import fonts
from reports.document import FIRST_STRONG_ISOLATE, POP_ISOLATE, without_isolates

MM_PER_INCH: Final = 25.4
POINTS_PER_INCH: Final = 72.0
SIZE: Final = 7.6
SMALL: Final = 6.8
MEASURED_AT: Final = 256.0
FIXED_POINT: Final = 65536.0  # FreeType gives unhinted advances in 16.16 fixed point
SLACK: Final = 1e-6  # room is often a difference of sums: its last digit must not cut what fits exactly
ELLIPSIS: Final = "\N{HORIZONTAL ELLIPSIS}"
_NUMBERED: Final = re.compile(f"{ELLIPSIS} #[0-9]+$")
BOX: Final = "\N{WHITE SQUARE}"
LEFT_TO_RIGHT: Final = "\N{LEFT-TO-RIGHT MARK}"
_ISOLATES: Final = frozenset(FIRST_STRONG_ISOLATE + POP_ISOLATE)


def width_of(text: str, size: float = SIZE) -> float:
    """How many millimetres a text takes in the pictures' face, kerning left aside."""
    return sum(_advance(sign) for sign in without_isolates(text)) * size


def fitted(text: str, room: float, size: float = SIZE) -> str:
    """The text, cut at its end until it takes no more than `room` millimetres.

    A name that was cut before keeps the number behind it, which tells it apart from others cut alike.
    """
    if width_of(text, size) <= room + SLACK:
        return text
    tail = _NUMBERED.search(text)
    end = tail.group() if tail and width_of(tail.group(), size) <= room / 2 else ELLIPSIS
    left, kept = room - width_of(end, size), 0
    for sign in text:
        left -= width_of(sign, size)
        if left < 0:
            break
        kept += 1
    cut = text[:kept].rstrip()
    still_open = cut.count(FIRST_STRONG_ISOLATE) - cut.count(POP_ISOLATE)
    return cut + POP_ISOLATE * still_open + end


def broken(text: str, room: float, size: float = SIZE) -> list[str]:
    """The text broken between words into lines of this room; a word that is longer stands alone, uncut."""
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        if not lines[-1] or width_of(longer, size) <= room:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def drawable(text: str) -> str:
    """The text with a box for every character that the pictures' face does not have.

    Marks that isolate a name from the direction of its neighbours stay, and the whole is said to run from
    left to right: else "first less second" would stand the other way round where both run from right to left.
    """
    drawn = "".join(sign if sign in _ISOLATES or _has(sign) else BOX for sign in text)
    return f"{LEFT_TO_RIGHT}{drawn}" if FIRST_STRONG_ISOLATE in drawn else drawn


@lru_cache(maxsize=4096)
def _has(sign: str) -> bool:
    return bool(_face().get_char_index(ord(sign)))


@lru_cache(maxsize=4096)
def _advance(sign: str) -> float:
    """Width of one character, in millimetres for each point of size."""
    from matplotlib.ft2font import LoadFlags

    glyph = _face().load_char(ord(sign if _has(sign) else BOX), flags=LoadFlags.NO_HINTING)
    return float(glyph.linearHoriAdvance) / FIXED_POINT / MEASURED_AT / POINTS_PER_INCH * MM_PER_INCH


@cache
def _face() -> Any:
    from matplotlib.ft2font import FT2Font

    face = FT2Font(str(fonts.regular()))
    face.set_size(MEASURED_AT, POINTS_PER_INCH)
    return face
