"""Every sentence about a design check: may this new design ship?

As for a verdict, the analysis gives codes and numbers and this turns them into words. The cautions of the
trials are worded as in their own reports.
"""

from collections.abc import Sequence
from typing import Any, Final

from reports import document as doc
from reports.language import marked, say
from reports.wording.check_cautions import completed_caution
from reports.wording.check_outcomes import of_several
from reports.wording.check_speech import CheckSpeech, is_then_and_now
from reports.wording.check_statement import reception, statement
from reports.wording.findings import HERE_ONLY
from reports.wording.speech import Speech, speech_of

SHIFT_NOT_SEEN: Final = marked(
    "What changed between the two days is seen only as far as the reference shares it. A shift of one "
    "{thing} from day to day that the reference does not share is not seen: it looks like a difference of "
    "design."
)
ONE_ITEM: Final = marked(
    "One {thing} of each design was tried. It speaks for the ones that were {done}, not for every one that "
    "will be made: to hear that, try several of a batch as samples of one design."
)
THEN_AND_NOW: Final = marked(
    "The same {thing} is held against itself, then and now, so what is seen is what became of it between the "
    "two trials: weathering, or handling, as far as the reference was spared."
)


def complete(document: doc.Document, analyses: Sequence[doc.Document]) -> dict[str, Any]:
    """A copy of a design-check document with every sentence filled in.

    `analyses` are the analysis documents of its trials, in their order. KeyError for an outcome, a caution or
    a reason that has no words.
    """
    speeches = [speech_of(analysis) for analysis in analyses]
    checks = [
        _completed(CheckSpeech(check, speeches[check["candidate_trial"]], speeches[check["baseline_trial"]]))
        for check in document["checks"]
    ]
    return {
        **document,
        "checks": checks,
        "statement": _overall(checks),
        "cautions": [completed_caution(document, entry, speeches) for entry in document["cautions"]],
        "not_seen": _not_seen(document, speeches[0]),
    }


def _completed(said: CheckSpeech) -> dict[str, Any]:
    return {**said.check, "statement": statement(said), "reception_statement": reception(said)}


def _overall(checks: Sequence[doc.Entry]) -> str:
    if len(checks) == 1:
        return str(checks[0]["statement"])
    return of_several([check["outcome"] for check in checks])


def _not_seen(document: doc.Document, speech: Speech) -> list[str]:
    words = {"thing": speech.things.one, "done": speech.things.done}
    several = all(len(check["samples"]) > 1 for check in document["checks"])
    same = any(is_then_and_now(check) for check in document["checks"])
    parts = [
        *([] if document["reference"] is None else [SHIFT_NOT_SEEN]),
        *([THEN_AND_NOW] if same else []),
        *([] if several else [ONE_ITEM]),
        HERE_ONLY,
    ]
    return [say(part, **words) for part in parts]
