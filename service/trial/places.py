"""How a fault tells its place and what was given there."""

import math
from urllib.parse import quote

POINTER_SIGNS = "!$&'()*+,;=:@"
LONGEST_GIVEN = 80


def pointer(*steps: object) -> str:
    """A JSON pointer in fragment form (RFC 6901, section 6), e.g. #/readings/12/value.

    A step of more than 80 characters is cut: it can only be a key that nobody knows.
    """
    return "#" + "".join(f"/{_escaped(step)}" for step in steps)


def brief(value: object) -> object:
    """What was given, short enough to be told back and such that JSON can carry it."""
    if value is None or isinstance(value, bool) or (isinstance(value, float) and math.isfinite(value)):
        return value
    if isinstance(value, int) and abs(value) < 2**53:
        return value
    if isinstance(value, list | tuple):
        return "a list"
    if isinstance(value, dict):
        return "an object"
    return _cut(str(value)).encode("utf-8", "replace").decode()


def _cut(text: str) -> str:
    return text if len(text) <= LONGEST_GIVEN else f"{text[:LONGEST_GIVEN]}…"


def _escaped(step: object) -> str:
    return quote(_cut(str(step)).replace("~", "~0").replace("/", "~1"), safe=POINTER_SIGNS, errors="replace")
