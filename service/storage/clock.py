"""The time as it is kept: a text of one length in UTC, so that texts order as times do."""

from datetime import UTC, datetime, timedelta

FORMAT = "%Y-%m-%dT%H:%M:%S.%fZ"


def now() -> datetime:
    """Now. All times that are kept or compared with kept ones come from here."""
    return datetime.now(UTC)


def now_text(*, plus: timedelta = timedelta(0)) -> str:
    """Now, or so much later (or earlier), such as 2026-03-01T09:30:00.000000Z."""
    return (now() + plus).strftime(FORMAT)


def time_of(text: str) -> datetime:
    """The time that a text of this form tells."""
    return datetime.strptime(text, FORMAT).replace(tzinfo=UTC)
