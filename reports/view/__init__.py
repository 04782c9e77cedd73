"""From the analysis document to a report of finished strings; the only place that chooses what is shown."""

from reports import dates
from reports import document as doc
from reports.language import say
from reports.page import Frame
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
    understood,
)
from reports.view.model import Bounds, Draw, Report, Section
from reports.wording.speech import Speech, speech_of


def report_view(document: doc.Document, draw: Draw, bounds: Bounds) -> Report:
    """The report of a completed analysis document (see `wording.complete`), its pictures made by `draw`."""
    speech = speech_of(document)
    found = document["provenance"]
    scanned = dates.scanned(found)
    issued_at = found.get("issued_at") or found["last_at"] or ""
    issued = dates.day(issued_at) or say("no date: the readings carry no times")
    return Report(
        title=doc.clean(document["trial"]["title"] or "")
        or say("Trial of {things}", things=speech.things.many),
        report_id=doc.clean(found["report_id"]),
        scanned=scanned,
        issued=issued,
        issued_at=issued_at,
        taken=_taken(speech),
        answer=first_page.answer(speech, draw, bounds),
        sections=_sections(speech, draw, bounds, dates=(scanned, issued)),
        end=say("End of report {report}", report=doc.clean(found["report_id"])),
    )


def report_frame(report: Report) -> Frame:
    """What stands around the report on a page or in a PDF."""
    return Frame(
        template="report.html",
        kind=say("verdict report"),
        title=f"{report.title}: {report.answer.outcome}",
        heading=report.title,
        end=report.end,
        identifier=report.report_id,
        moments=(report.issued_at,) if report.issued_at else (),
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
        reception.section(speech, draw, bounds),
        *bands.sections(speech, bounds),
        channels.section(speech, draw, bounds),
        *metal.sections(speech, draw, bounds),
        flow.section(speech, bounds),
        *amendments.sections(speech, bounds),
        closing.method(speech),
        understood.understood(speech, bounds),
        closing.provenance(speech, dates),
        closing.safety(),
    )


def _taken(speech: Speech) -> str:
    number = speech.compared(len(speech.document["elements"]))
    return f"{number}, {speech.rounds(speech.verdict['rounds_done'])}"
