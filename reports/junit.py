"""A verdict as JUnit XML: settled is passed, `needs more runs` is skipped.

Names of suites and cases, messages and texts are said in the spoken language. Classes and properties are read
by programs and are the same in every language, the outcome among the properties too.
"""

from reports import document as doc
from reports.document import Document
from reports.junit_xml import PASSED, SKIPPED, Case, written
from reports.language import say
from reports.wording.speech import Speech, speech_of
from reports.wording.vocabulary import OUTCOMES

CLASS, AGAINST = "aerial-assay.verdict", "aerial-assay.against"


def render(document: Document) -> bytes:
    """The suite of a completed analysis document: the verdict, then the leader against each other."""
    speech = speech_of(document)
    found = document["provenance"]
    given = doc.clean(document["trial"]["title"] or "")
    title = given or say("Trial of {things}", things=speech.things.many)
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
    return Case(CLASS, say("verdict"), _result(found["outcome"]), str(found["statement"]), text=text)


def _against(speech: Speech) -> list[Case]:
    best = doc.leader(speech.document)
    if best is None:
        return []
    return [
        Case(
            AGAINST,
            say("{one} against {other}", one=speech.label(best["id"]), other=speech.label(entry["element"])),
            _result(entry["outcome"]),
            _distance(speech, entry),
        )
        for entry in speech.verdict["against"]
    ]


def _distance(speech: Speech, entry: doc.Entry) -> str:
    outcome = say(OUTCOMES[entry["outcome"]])
    if entry["low"] is None or entry["high"] is None:
        return say("{outcome}: no interval can be given yet.", outcome=outcome)
    return say(
        "{outcome}: the true difference lies {between}.",
        outcome=outcome,
        between=speech.between(entry["low"], entry["high"]),
    )


def _result(outcome: str) -> str:
    return SKIPPED if outcome == doc.MORE else PASSED
