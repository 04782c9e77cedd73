"""From the analysis document to a report of finished strings; the only place that chooses what is shown."""

from datetime import UTC, datetime

from reports import document as doc
from reports.view import (
    amendments,
    bands,
    cautions,
    channels,
    closing,
    drift,
    error_rates,
    first_page,
    flow,
    going_on,
    metal,
    one_scan,
    pairs,
    reception,
    rounds,
    sure,
)
from reports.view.model import Bounds, Draw, Report, Section
from reports.wording.speech import Speech, speech_of

_MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)


def report_view(document: doc.Document, draw: Draw, bounds: Bounds) -> Report:
    """The report of a completed analysis document (see `wording.complete`), its pictures made by `draw`."""
    speech = speech_of(document)
    found = document["provenance"]
    scanned, issued = _scanned(found), _day(found["last_at"]) or "no date: the readings carry no times"
    return Report(
        title=doc.clean(document["trial"]["title"] or "") or f"Trial of {speech.things.many}",
        report_id=doc.clean(found["report_id"]),
        scanned=scanned,
        issued=issued,
        issued_at=found["last_at"] or "",
        taken=_taken(speech),
        answer=first_page.answer(speech, draw, bounds),
        sections=_sections(speech, draw, bounds, dates=(scanned, issued)),
        end=f"End of report {doc.clean(found['report_id'])}",
    )


def _sections(speech: Speech, draw: Draw, bounds: Bounds, *, dates: tuple[str, str]) -> tuple[Section, ...]:
    """In the order a reader asks: how sure, what could be wrong, what to do next, then the details."""
    return (
        *one_scan.sections(speech, bounds),
        sure.section(speech, bounds),
        error_rates.section(speech, draw, bounds),
        cautions.section(speech),
        going_on.section(speech),
        pairs.section(speech, draw, bounds),
        rounds.section(speech, draw, bounds),
        drift.section(speech),
        reception.section(speech, bounds),
        *bands.sections(speech, bounds),
        channels.section(speech, draw, bounds),
        *metal.sections(speech, draw, bounds),
        flow.section(speech, bounds),
        *amendments.sections(speech, bounds),
        closing.method(speech),
        closing.understood(speech, bounds),
        closing.provenance(speech, dates),
        closing.safety(),
    )


def _taken(speech: Speech) -> str:
    number = speech.compared(len(speech.document["elements"]))
    return f"{number}, {speech.rounds(speech.verdict['rounds_done'])}"


def _scanned(found: doc.Entry) -> str:
    first, last = _day(found["first_at"]), _day(found["last_at"])
    if not first or not last:
        return "not given: the readings carry no times"
    if first == last:
        return first
    same_month = first.split(" ")[1:] == last.split(" ")[1:]
    return f"{first.split(' ')[0] if same_month else first} to {last}"


def _day(moment: str | None) -> str:
    if not moment:
        return ""
    day = datetime.fromisoformat(moment).astimezone(UTC)
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"
