"""Why the verdict is what it is, reason by reason."""

from collections.abc import Callable
from typing import Final

from reports import document as doc
from reports import numerals
from reports.language import say, say_number
from reports.wording.cautions import phrase
from reports.wording.speech import Speech, listed, sentences
from reports.wording.vocabulary import OUTCOMES

Evidence = doc.Entry


def message(speech: Speech, code: str, evidence: Evidence) -> str:
    """The sentence for a reason; KeyError for a code without one."""
    return REASONS[code](speech, evidence)


def _settled(speech: Speech, _evidence: Evidence) -> str:
    round_ = speech.verdict["decided_at_round"]
    if not round_:
        return say("The rule was met.")
    return say("The rule was met in round {round}; a decision once reached stands.", round=round_)


def _not_told_apart(speech: Speech, evidence: Evidence) -> str:
    others = list(evidence["elements"])
    best = doc.leader(speech.document)
    names = speech.names([name for name in others if best is None or name != best["id"]], joined="or")
    ahead = speech.name(best["id"]) if best else say("the leader")
    return say(
        "The interval between {leader} and {others} is still too wide to decide it.",
        leader=ahead,
        others=names,
    )


def _too_small(speech: Speech, _evidence: Evidence) -> str:
    return say(
        "A difference is there, and it is real, but it is too small to matter: under the {margin} you would "
        "act on.",
        margin=speech.margin(),
    )


def _too_few_rounds(speech: Speech, _evidence: Evidence) -> str:
    done, fewest = speech.verdict["rounds_done"], speech.verdict["fewest_rounds"]
    if fewest is None:
        return say_number(
            "There has been {rounds}, too few for the rule to decide anything.",
            "There have been {rounds}, too few for the rule to decide anything.",
            done,
            rounds=speech.rounds(done),
        )
    return say_number(
        "With fewer than {fewest} the rule can decide nothing; there has been {rounds}.",
        "With fewer than {fewest} the rule can decide nothing; there have been {rounds}.",
        done,
        fewest=speech.rounds(fewest),
        rounds=speech.rounds(done),
    )


def _known_too_short(speech: Speech, evidence: Evidence) -> str:
    them = say(
        "One {element} {done} {times} times, with a scan each time, has them.",
        element=speech.things.one,
        done=speech.things.done,
        times=numerals.plain(evidence["needed"] + 1),
    )
    return sentences(_not_used(speech, evidence), them)


def _not_used(speech: Speech, evidence: Evidence) -> str:
    given, repeated, needed = evidence["given"], evidence["repeated"], numerals.plain(evidence["needed"])
    if not given:
        return say(
            "What was {done} again within a round is not used as the noise: it has {number} of the {needed} "
            "degrees of freedom that it takes.",
            done=speech.things.done,
            number=numerals.plain(repeated),
            needed=needed,
        )
    more = ""
    if repeated:
        more = say(", {number} more come from repeats in this trial", number=numerals.plain(repeated))
    return say(
        "The known repeatability is not used as the noise: it has {number} of the {needed} degrees of "
        "freedom that it takes{more}.",
        number=numerals.plain(given),
        needed=needed,
        more=more,
    )


def _nothing_to_compare(speech: Speech, _evidence: Evidence) -> str:
    return say("A comparison needs two {elements} at least.", elements=speech.things.many)


def _no_level(_speech: Speech, _evidence: Evidence) -> str:
    return say(
        "No signal has a level in every run, or all of them stand at one end of the meter's scale in every "
        "run: such readings say nothing about which is higher."
    )


def _not_judged(speech: Speech, evidence: Evidence) -> str:
    names = speech.names(evidence["elements"])
    return say(
        "Not judged, for want of runs that can be compared with the others: {elements}.", elements=names
    )


def _stopped(speech: Speech, evidence: Evidence) -> str:
    causes = listed([phrase(caution["code"]) for caution in doc.stops(speech.document)])
    standing = evidence["pairs_standing"]
    stands = (
        say("Still standing: {pairs}.", pairs=speech.pairs(standing))
        if standing
        else say("No clear result of a pair is left standing.")
    )
    return sentences(say("Stopped by: {cautions}.", cautions=causes), stands)


def _present_look(_speech: Speech, evidence: Evidence) -> str:
    return say(
        "The rounds up to now, taken alone, would say “{outcome}”; the earlier decision stands, and the "
        "error rate counts it.",
        outcome=say(OUTCOMES[evidence["outcome"]]),
    )


def _too_fine(_speech: Speech, _evidence: Evidence) -> str:
    return say(
        "The difference is too fine for this meter and site: sixty rounds would probably not settle it."
    )


REASONS: Final[dict[str, Callable[[Speech, Evidence], str]]] = {
    "settled": _settled,
    "not-told-apart": _not_told_apart,
    "too-small-to-matter": _too_small,
    "too-few-rounds": _too_few_rounds,
    "known-noise-too-short": _known_too_short,
    "nothing-to-compare": _nothing_to_compare,
    "no-level": _no_level,
    "not-judged": _not_judged,
    "stopped": _stopped,
    "present-look-differs": _present_look,
    "too-fine": _too_fine,
}
