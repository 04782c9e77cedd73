"""The usual spellings of headings, and those that could mean two things.

The rule: capitals do not count; underscores, hyphens, points, colons and every kind of space are one space;
what is left is looked up here and nowhere else. A spelling that could mean two columns is no spelling: it is
refused with the choice. A unit stands in brackets behind a heading, or bare behind one of value.
"""

import re

from service.intake.units import name_and_unit, named_unit

SPELLINGS = {
    "element": (
        "element", "elements", "element id", "element name", "antenna", "antenna element", "aerial",
    ),
    "round": ("round", "rounds", "round no", "round nr", "round number", "rnd", "round #"),
    "channel": ("channel", "channels", "channel name", "channel id", "ch", "chan", "ch name"),
    "value": (
        "value", "values", "value read", "reading", "readings", "meter reading", "signal", "level", "levels",
        "signal level", "signal strength",
    ),
    "rf_channel": (
        "rf channel", "rfchannel", "rf", "rf ch", "rf chan", "rf channel no", "rf channel nr",
        "rf channel number", "rf no", "rf number", "multiplex", "mux",
    ),
    "received": ("received", "reception", "received?"),
    "at": (
        "at", "time", "date", "date time", "date/time", "datetime", "date and time", "timestamp",
        "time stamp", "measured at", "taken at", "scanned at",
    ),
    "run": ("run", "runs", "run no", "run nr", "run number", "run id", "run #", "scan", "scan no",
            "scan number", "scan id"),
    "mounting": ("mounting", "mountings", "mounting no", "mounting nr", "mounting number", "mounting id",
                 "mount", "mount no", "mount number"),
}  # fmt: skip
AMBIGUOUS = {
    "channel no": "channel or rf_channel",
    "channel nr": "channel or rf_channel",
    "channel number": "channel or rf_channel",
    "channel #": "channel or rf_channel",
    "ch no": "channel or rf_channel",
    "ch nr": "channel or rf_channel",
    "ch #": "channel or rf_channel",
    "test": "round or run",
    "test no": "round or run",
    "trial": "round or run",
    "trial no": "round or run",
    "pass": "round or run",
    "sweep": "round or run",
    "repeat": "round, run or mounting",
    "position": "element or mounting",
    "no": "round, run or channel",
    "nr": "round, run or channel",
    "number": "round, run or channel",
    "#": "round, run or channel",
    "name": "element or channel",
    "id": "element or channel",
}
"""Spellings that could mean several columns, and which."""
ASIDE = {
    **dict.fromkeys(("note", "notes", "remark", "remarks", "comment", "comments"), "Notes are not read"),
    **dict.fromkeys(
        ("frequency", "freq", "frequency mhz", "mhz", "frequency (mhz)", "freq (mhz)"),
        "A frequency is not read: the RF channel is, under rf_channel",
    ),
}
"""Columns that tables often have and that are not read, and why."""
_NAMES = {spelling: name for name, spellings in SPELLINGS.items() for spelling in spellings}
LONGEST = 200
"""No spelling is longer by far; a longer text is not looked up."""
_BETWEEN = re.compile(r"[\s_.:\-\u2010-\u2015]+")
_BARE_UNITS = ("percent", "dB", "dBuV", "dBmV", "dBm")


def plain_heading(text: str) -> str:
    """A heading as it is looked up; one that is too long to be a spelling stays as it is."""
    if len(text) > LONGEST:
        return text
    return _BETWEEN.sub(" ", text).strip().casefold()


def understood(heading: str) -> tuple[str, str | None]:
    """The column that a heading names and its unit; a heading that is not known stays as it is.

    A unit alone heads values in it, except bars, which an element may be.
    """
    if len(heading) > LONGEST:
        return heading, None
    plain = plain_heading(heading)
    if plain in _NAMES:
        return _NAMES[plain], None
    if named_unit(heading) in _BARE_UNITS:
        return "value", named_unit(heading)
    bare, unit = name_and_unit(heading, bare=True)
    if unit is not None and _NAMES.get(plain_heading(bare)) == "value":
        return "value", unit
    name, unit = name_and_unit(heading, bare=False)
    return (heading, None) if plain_heading(name) in _NAMES else (name, unit)


def choice(heading: str) -> str | None:
    """What to do about a heading that could mean several columns or that is not read; None for any other."""
    plain = plain_heading(heading)
    if plain in AMBIGUOUS:
        return f"This could be {AMBIGUOUS[plain]}: write the one that is meant."
    return f"{ASIDE[plain]}: take the column out." if plain in ASIDE else None
