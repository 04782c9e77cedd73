"""A verdict as JUnit XML: settled is passed, `needs more runs` is skipped."""

from reports import document as doc
from reports.document import Document
from reports.junit_xml import PASSED, SKIPPED, Case, written
from reports.wording.speech import Speech, speech_of

CLASS, AGAINST = "aerial-assay.verdict", "aerial-assay.against"


def render(document: Document) -> bytes:
    """The suite of a completed analysis document: the verdict, then the leader against each other."""
    speech = speech_of(document)
    found = document["provenance"]
    title = doc.clean(document["trial"]["title"] or "") or f"Trial of {speech.things.many}"
    properties = [
        ("report_id", str(found["report_id"])),
        ("readings_sha256", str(found["readings_sha256"])),
        ("version", str(document["method"]["version"])),
        ("outcome", str(speech.verdict["outcome"])),
    ]
    return written(title, [_verdict(speech), *_against(speech)], properties)


def _verdict(speech: Speech) -> Case:
    found = speech.verdict
    reasons = [str(entry["message"]) for entry in found["reasons"]]
    text = "\n".join([*reasons, str(found["reception_statement"])])
    return Case(CLASS, "verdict", _result(found["outcome"]), str(found["statement"]), text=text)


def _against(speech: Speech) -> list[Case]:
    best = doc.leader(speech.document)
    if best is None:
        return []
    return [
        Case(
            AGAINST,
            f"{speech.label(best['id'])} against {speech.label(entry['element'])}",
            _result(entry["outcome"]),
            _distance(speech, entry),
        )
        for entry in speech.verdict["against"]
    ]


def _distance(speech: Speech, entry: doc.Entry) -> str:
    outcome = str(entry["outcome"])
    if entry["low"] is None or entry["high"] is None:
        return f"{outcome}: no interval can be given yet."
    return f"{outcome}: the true difference lies {speech.between(entry['low'], entry['high'])}."


def _result(outcome: str) -> str:
    return SKIPPED if outcome == doc.MORE else PASSED
