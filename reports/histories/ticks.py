"""Where the axis of dates is marked, and with what."""

from datetime import UTC, datetime, timedelta
from typing import Final

MOST_TICKS: Final = 10
EDGE: Final = 0.03  # how far the axis goes beyond the dates, in their own length
_MONTHS: Final = (1, 2, 3, 6, 12, 24, 60, 120)
_DAYS: Final = (1, 2, 7, 14)
Ticks = tuple[tuple[float, str], ...]


def ticks(first: str, span_days: float) -> Ticks:
    """Marks (days since the first date, label) at beginnings of months or days, ten at most.

    `first` is RFC 3339 in UTC. Dates less than two days apart are marked at both ends, with the hour.
    """
    start = datetime.fromisoformat(first.replace("Z", "+00:00")).astimezone(UTC)
    if span_days < 2:
        ends = (0.0, span_days)
        return tuple((day, f"{start + timedelta(days=day):%Y-%m-%d %H:%M}") for day in ends)
    for step in _DAYS:
        if span_days / step <= MOST_TICKS:
            return _by_days(start, span_days, step)
    step = next((months for months in _MONTHS if span_days / (30 * months) <= MOST_TICKS), _MONTHS[-1])
    return _by_months(start, span_days, step)


def _by_days(start: datetime, span_days: float, step: int) -> Ticks:
    midnight = start.replace(hour=0, minute=0, second=0, microsecond=0)
    days = [midnight + timedelta(days=number) for number in range(0, int(span_days) + 2, step)]
    return _within(start, span_days, [(day, f"{day:%Y-%m-%d}") for day in days])


def _by_months(start: datetime, span_days: float, step: int) -> Ticks:
    count = int(span_days / 28 / step) + 2
    begin = start.year * 12 + (start.month - 1) // step * step
    months = [divmod(begin + number * step, 12) for number in range(count)]
    days = [datetime(year, month + 1, 1, tzinfo=UTC) for year, month in months]
    return _within(start, span_days, [(day, f"{day:%Y-%m}") for day in days])


def _within(start: datetime, span_days: float, marks: list[tuple[datetime, str]]) -> Ticks:
    """Those that lie on the axis, which goes a little beyond the dates."""
    placed = [((day - start) / timedelta(days=1), label) for day, label in marks]
    return tuple((at, label) for at, label in placed if -EDGE * span_days <= at <= (1 + EDGE) * span_days)
