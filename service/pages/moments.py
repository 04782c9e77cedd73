"""Dates and times for people."""

from datetime import UTC, datetime

from reports import dates
from reports.language import say


def moment(text: str) -> str:
    """A time of RFC 3339 as day and time of day in UTC."""
    at = datetime.fromisoformat(text).astimezone(UTC)
    time = f"{at:%H:%M}"
    return say("{day}, {time} UTC", day=dates.day(text), time=time)
