"""When a notice that was not taken is sent again: nine tries over an hour, later where the answer asks it."""

from datetime import UTC, timedelta
from email.utils import parsedate_to_datetime

from service.storage.clock import now

PAUSES = tuple(timedelta(seconds=seconds) for seconds in (10, 30, 60, 120, 300, 600, 1200, 1200))
"""Behind each try but the last; the last of them is the longest that a Retry-After gets."""
MOST_TRIES = len(PAUSES) + 1


def pause_after(tries_before: int, retry_after: str | None) -> timedelta | None:
    """How long to wait after a try with so many before it; None where it was the last.

    retry_after: the header of that name (RFC 9110 section 10.2.3), seconds or a date.
    """
    if tries_before >= len(PAUSES):
        return None
    return max(PAUSES[tries_before], min(_asked(retry_after), PAUSES[-1]))


def _asked(retry_after: str | None) -> timedelta:
    text = (retry_after or "").strip()
    if text.isascii() and text.isdigit():
        return timedelta(seconds=int(text[:9]))
    try:
        at = parsedate_to_datetime(text)
    except ValueError:
        return timedelta(0)
    return (at if at.tzinfo else at.replace(tzinfo=UTC)) - now()
