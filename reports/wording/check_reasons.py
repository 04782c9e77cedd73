"""Why a design check is not settled yet, by the codes of its reasons."""

from collections.abc import Callable, Iterator, Mapping
from typing import Final

from reports import document as doc
from reports.language import say
from reports.wording.check_speech import CheckSpeech
from reports.wording.findings import stopped
from reports.wording.speech import listed


def why(said: CheckSpeech) -> Iterator[str]:
    """A sentence for each reason; KeyError for one without words."""
    return (_REASONS[reason["code"]](said, reason["evidence"]) for reason in said.check["reasons"])


def _stopped(_said: CheckSpeech, evidence: doc.Entry) -> str:
    return stopped(evidence["cautions"])


def _no_level(_said: CheckSpeech, _evidence: doc.Entry) -> str:
    return say("No signal gives a level that can be compared.")


def _no_shared_signal(_said: CheckSpeech, _evidence: doc.Entry) -> str:
    return say(
        "No signal gives a level in both trials, so nothing can be compared: scan the same channels in both."
    )


def _no_shared_round(_said: CheckSpeech, _evidence: doc.Entry) -> str:
    return say("No round holds a run of each.")


def _no_limits_yet(said: CheckSpeech, evidence: doc.Entry) -> str:
    fewest = evidence["fewest_rounds"]
    if fewest is not None and min(evidence["rounds"], evidence["baseline_rounds"]) < fewest:
        return say(
            "Each trial needs at least {rounds} with the reference and what is judged.",
            rounds=said.now.rounds(fewest),
        )
    if len(said.check["samples"]) > 1:
        return say("Several samples are judged from three samples and three rounds that hold them all.")
    return say("There are too few rounds yet, or none varies, so that no limit can be given.")


def _no_round_with_reference(said: CheckSpeech, evidence: doc.Entry) -> str:
    apart = [
        (said.now if one["trial"] == said.check["candidate_trial"] else said.then).name(one["element"])
        for one in evidence["apart"]
    ]
    return say(
        "There are no limits yet, because no round holds {reference} together with {elements}. Each trial "
        "needs at least {rounds} that hold both.",
        reference=said.now.name(evidence["reference"]),
        elements=listed(apart, joined="or with"),
        rounds=said.now.rounds(evidence["fewest_rounds"]),
    )


def _limits_hold_the_margin(said: CheckSpeech, _evidence: doc.Entry) -> str:
    return say(
        "The rounds so far leave open whether it is worse by the margin of {margin}.", margin=said.margin
    )


_REASONS: Final[Mapping[str, Callable[[CheckSpeech, doc.Entry], str]]] = {
    "stopped": _stopped,
    "no-level": _no_level,
    "no-shared-signal": _no_shared_signal,
    "no-round-with-reference": _no_round_with_reference,
    "no-shared-round": _no_shared_round,
    "no-limits-yet": _no_limits_yet,
    "limits-hold-the-margin": _limits_hold_the_margin,
}
