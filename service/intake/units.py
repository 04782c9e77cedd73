"""Units as people write them behind a number or in a heading."""

import re

SPELLINGS = {
    "%": "percent",
    "percent": "percent",
    "per cent": "percent",
    "pct": "percent",
    "bar": "bars",
    "bars": "bars",
    "db": "dB",
    "dbuv": "dBuV",
    "dbμv": "dBuV",  # casefold makes the micro sign the Greek letter
    "dbmv": "dBmV",
    "dbm": "dBm",
}
"""The unit that each spelling stands for; capitals do not count."""
WORDS = "|".join(sorted(map(re.escape, SPELLINGS), key=len, reverse=True))
BEHIND_NUMBER = re.compile(rf"(.*[\d.,])\s*({WORDS})")
IN_BRACKETS = re.compile(rf"(.*?)\s*[(\[]\s*(?:in\s+)?({WORDS})\s*[)\]]", re.IGNORECASE)
BEHIND_WORD = re.compile(rf"(.*?)(?:\s*[,/:]\s*|\s+in\s+|\s+)({WORDS})", re.IGNORECASE)


def named_unit(text: str) -> str | None:
    """The unit that a text spells, None where it spells none."""
    return SPELLINGS.get(text.strip().casefold())


def number_and_unit(text: str) -> tuple[str, str | None]:
    """A cell parted into what stands before the unit, and the unit; None where no unit stands there."""
    if not text or text[-1].isdigit():
        return text, None
    parted = BEHIND_NUMBER.fullmatch(text.casefold())
    return (text, None) if parted is None else (text[: parted.end(1)], SPELLINGS[parted[2]])


def name_and_unit(heading: str, *, bare: bool) -> tuple[str, str | None]:
    """A heading parted into name and unit in brackets; with `bare`, a unit without brackets counts too."""
    parted = IN_BRACKETS.fullmatch(heading) or (BEHIND_WORD.fullmatch(heading) if bare else None)
    return (heading, None) if parted is None else (parted[1].strip(), named_unit(parted[2]))
