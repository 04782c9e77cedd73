"""Days as a report writes them, in UTC, in the order of the locale and with the months of its language."""

from datetime import UTC, date, datetime

from reports import document as doc
from reports.language import marked, say
from reports.locales import spoken

_MONTHS = (
    *(marked("January"), marked("February"), marked("March"), marked("April"), marked("May"), marked("June")),
    *(marked("July"), marked("August"), marked("September")),
    *(marked("October"), marked("November"), marked("December")),
)


def scanned(found: doc.Entry) -> str:
    """From which day to which the readings of a document's provenance were taken."""
    if not found["first_at"] or not found["last_at"]:
        return say("not given: the readings carry no times")
    first, last = _date(found["first_at"]), _date(found["last_at"])
    if first == last:
        return _written(spoken().day, first)
    if (first.year, first.month) == (last.year, last.month):
        return _written(spoken().days, first, last.day)
    return say("{first} to {last}", first=_written(spoken().day, first), last=_written(spoken().day, last))


def day(moment: str | None) -> str:
    """The day of a moment, "" where there is none."""
    return _written(spoken().day, _date(moment)) if moment else ""


def _date(moment: str) -> date:
    return datetime.fromisoformat(moment).astimezone(UTC).date()


def _written(pattern: str, first: date, last: int = 0) -> str:
    return pattern.format(day=first.day, month=say(_MONTHS[first.month - 1]), year=first.year, last=last)
