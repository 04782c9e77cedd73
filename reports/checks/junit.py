"""A design check as JUnit XML: two cases a candidate, level and reception apart.

`falls short` is a failure; `needs more runs` is skipped, by option a failure. Lost reception is a second
criterion that does not turn the outcome: it is skipped with its sentence, so that file and exit status agree.
As for verdicts names, messages and texts are said in the spoken language; classes, properties and the kind of
a failure are the same in every language.
"""

from reports import document as doc
from reports.junit_xml import FAILED, PASSED, SKIPPED, Case, written
from reports.language import marked, say
from reports.wording.check_outcomes import HOLDS, SHORT
from reports.wording.check_speech import labels_of

LEVEL, RECEPTION = "design-check.level", "design-check.reception"
_SEVERITIES = {"stop": marked("stop"), "warning": marked("warning"), "note": marked("note")}


def render(document: doc.Document, *, needs_more_runs_fails: bool = False) -> bytes:
    """The suite of a completed design-check document."""
    undecided = FAILED if needs_more_runs_fails else SKIPPED
    results = {HOLDS: PASSED, SHORT: FAILED, doc.MORE: undecided}
    cases = [
        case
        for check in document["checks"]
        for case in (_level(document, check, results[check["outcome"]]), _reception(check))
    ]
    properties = [
        ("check_id", str(document["check_id"])),
        ("outcome", str(document["outcome"])),
        ("version", str(document["method"]["version"])),
        *(("readings_sha256", str(trial["provenance"]["readings_sha256"])) for trial in document["trials"]),
    ]
    return written(say("design check"), cases, properties)


def _level(document: doc.Document, check: doc.Entry, result: str) -> Case:
    cautions = [f"{say(_SEVERITIES[one['severity']])}: {one['message']}" for one in document["cautions"]]
    text = "\n".join([str(check["reception_statement"]), *document["not_seen"], *cautions])
    kind = str(check["outcome"])
    return Case(LEVEL, _name(check), result, str(check["statement"]), kind=kind, text=text)


def _reception(check: doc.Entry) -> Case:
    result = PASSED if check["reception"]["outcome"] == HOLDS else SKIPPED
    return Case(RECEPTION, _name(check), result, str(check["reception_statement"]))


def _name(check: doc.Entry) -> str:
    candidate, baseline = labels_of(check)
    return say("{one} against {other}", one=candidate, other=baseline)
