"""What a design check says of one candidate, in plain words."""

from collections.abc import Callable, Mapping
from typing import Final

from reports import document as doc
from reports import numerals
from reports.language import say, say_number
from reports.wording.check_outcomes import HOLDS, OUTCOMES, SHORT
from reports.wording.check_reasons import why
from reports.wording.check_speech import CheckSpeech
from reports.wording.findings import with_struck
from reports.wording.speech import listed, sentences


def statement(said: CheckSpeech) -> str:
    """Outcome, difference and limits, or why it is not settled; KeyError for a reason without words."""
    outcome = said.check["outcome"]
    return sentences(_BY_OUTCOME[outcome](said), with_struck(outcome, said.check["with_struck"], OUTCOMES))


def reception(said: CheckSpeech) -> str:
    """The second criterion, apart from the first."""
    found, names = said.check["reception"], {"candidate": said.candidate, "baseline": said.baseline}
    if not found["scanned_with_both"]:
        return say("Reception: no signal was scanned with both, so it cannot be compared.")
    if not found["lost"]:
        return say(
            "Reception: of the {signals} that {baseline} received in every run {candidate} lost none.",
            signals=numerals.number_of(found["compared"], "signal", "signals"),
            **names,
        )
    return say(
        "Reception falls short: {candidate} did not receive {signals} in every run, and {baseline} "
        "did. It is a count of what was received, with no chance of error promised.",
        signals=listed(found["lost"]),
        **names,
    )


def _holds(said: CheckSpeech) -> str:
    low = said.check["limits"]["low"]
    first = say(
        "{candidate} holds: it is not worse than {baseline} by the margin of {margin} or more.",
        candidate=said.candidate,
        baseline=said.baseline,
        margin=said.margin,
    )
    if low is None or low <= -said.check["margin"]:
        return sentences(first, _average(said), _stands(said))
    worst = say(
        "The true difference is {difference} at worst ({level} sure).",
        difference=said.apart(low),
        level=said.level,
    )
    return sentences(first, _average(said), worst)


def _falls_short(said: CheckSpeech) -> str:
    high = said.check["limits"]["high"]
    first = say(
        "{candidate} falls short of {baseline} by more than the margin of {margin}.",
        candidate=said.candidate,
        baseline=said.baseline,
        margin=said.margin,
    )
    if high is None or high >= -said.check["margin"]:
        return sentences(first, _average(said), _stands(said))
    best = say(
        "The true difference is {difference} at best ({level} sure).",
        difference=said.apart(high),
        level=said.level,
    )
    return sentences(first, _average(said), best)


def _stands(said: CheckSpeech) -> str:
    """Why a decision stands although the limit that is shown lies beyond the margin."""
    return say(
        "The decision was reached at round {round} and stands; the limits shown are those of now, and "
        "stricter, since they serve all candidates at once.",
        round=numerals.count(said.check["decided_at_round"]),
    )


def _needs_more(said: CheckSpeech) -> str:
    first = say(
        "{candidate} needs more runs before it can be held against {baseline}.",
        candidate=said.candidate,
        baseline=said.baseline,
    )
    return sentences(first, *why(said), _average(said), _more_rounds(said))


_BY_OUTCOME: Final[Mapping[str, Callable[[CheckSpeech], str]]] = {
    HOLDS: _holds,
    SHORT: _falls_short,
    doc.MORE: _needs_more,
}


def _average(said: CheckSpeech) -> str:
    difference = said.check["difference"]
    if difference is None:
        return ""
    rounds = said.now.rounds(said.check["rounds"])
    return say(
        "Over {rounds} it read {difference} on average.", rounds=rounds, difference=said.apart(difference)
    )


def _more_rounds(said: CheckSpeech) -> str:
    half, safe = said.check["more_rounds"], said.check["more_rounds_safe"]
    if half is None:
        return _none_would_do(said)
    if safe is None or safe <= half:
        return say_number(
            "About {number} more round is needed.",
            "About {number} more rounds are needed.",
            half,
            number=numerals.count(half),
        )
    return say_number(
        "About {number} more round is needed, perhaps {most}.",
        "About {number} more rounds are needed, perhaps {most}.",
        half,
        number=numerals.count(half),
        most=numerals.count(safe),
    )


def _none_would_do(said: CheckSpeech) -> str:
    """Where the limits are there and no number of rounds was found that settles it."""
    codes = [reason["code"] for reason in said.check["reasons"]]
    if codes != ["limits-hold-the-margin"] or len(said.check["samples"]) > 1:
        return ""
    if said.check["candidate_trial"] == said.check["baseline_trial"]:
        return say("More rounds will hardly settle it: the true difference seems too near the margin.")
    return say(
        "More rounds of {candidate} will hardly settle it, since those of {baseline} stay as they are: run "
        "both in one trial.",
        candidate=said.candidate,
        baseline=said.baseline,
    )
