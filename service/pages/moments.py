"""Dates and times for people."""

from datetime import UTC, datetime


def moment(text: str) -> str:
    """A time of RFC 3339 as day and time of day in UTC."""
    at = datetime.fromisoformat(text).astimezone(UTC)
    return f"{at.day} {at:%B %Y, %H:%M} UTC"
