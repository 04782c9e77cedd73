"""Times of scans: RFC 3339 with a zone, to nanoseconds since 1970 in UTC."""

import re
from datetime import datetime

import numpy as np

TIME = re.compile(r"(\d{4}-\d\d-\d\d)[Tt ](\d\d:\d\d:\d\d)(?:\.(\d{1,9}))?([Zz]|[+-]\d\d:\d\d)", re.ASCII)
NO_TIME = np.iinfo(np.int64).min
FIRST_YEAR, LAST_YEAR = 1970, 2200
REMEDY = "Give date, time and zone as in 2026-05-12T14:30:00+02:00 (or with Z for UTC)."


def nanoseconds(text: str) -> int | None:
    """The time as nanoseconds since 1970-01-01T00:00Z, None where it is not a time with a zone.

    RFC 3339, section 5.6; years from 1971 to 2199; leap seconds are not read.
    """
    match = TIME.fullmatch(text)
    if match is None:
        return None
    day, time, fraction, zone = match.groups()
    try:
        moment = datetime.fromisoformat(f"{day}T{time}{zone.upper().replace('Z', '+00:00')}")
    except ValueError:
        return None
    if not FIRST_YEAR < moment.year < LAST_YEAR:
        return None
    return int(moment.timestamp()) * 10**9 + int((fraction or "").ljust(9, "0"))
