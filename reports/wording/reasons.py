"""Why the verdict is what it is, reason by reason."""

from collections.abc import Callable
from typing import Final

from reports import document as doc
from reports import numerals
from reports.wording.cautions import phrase
from reports.wording.speech import Speech, listed, sentences

Evidence = doc.Entry


def message(speech: Speech, code: str, evidence: Evidence) -> str:
    """The sentence for a reason; KeyError for a code without one."""
    return REASONS[code](speech, evidence)


def _settled(speech: Speech, _evidence: Evidence) -> str:
    round_ = speech.verdict["decided_at_round"]
    return (
        f"The rule was met in round {round_}; a decision once reached stands."
        if round_
        else "The rule was met."
    )


def _not_told_apart(speech: Speech, evidence: Evidence) -> str:
    others = list(evidence["elements"])
    best = doc.leader(speech.document)
    names = speech.names([name for name in others if best is None or name != best["id"]], joined="or")
    ahead = speech.name(best["id"]) if best else "the leader"
    return f"The interval between {ahead} and {names} is still too wide to decide it."


def _too_small(speech: Speech, _evidence: Evidence) -> str:
    return (
        f"A difference is there, and it is real, but it is too small to matter: under the {speech.margin()} "
        "you would act on."
    )


def _too_few_rounds(speech: Speech, _evidence: Evidence) -> str:
    done, fewest = speech.verdict["rounds_done"], speech.verdict["fewest_rounds"]
    have = f"{'has' if done == 1 else 'have'} been {speech.rounds(done)}"
    if fewest is None:
        return f"There {have}, too few for the rule to decide anything."
    return f"With fewer than {speech.rounds(fewest)} the rule can decide nothing; there {have}."


def _known_too_short(speech: Speech, evidence: Evidence) -> str:
    given, repeated, needed = evidence["given"], evidence["repeated"], evidence["needed"]
    what = "The known repeatability" if given else f"What was {speech.things.done} again within a round"
    and_here = (
        f", {numerals.plain(repeated)} more come from repeats in this trial" if given and repeated else ""
    )
    return (
        f"{what} is not used as the noise: it has {numerals.plain(given or repeated)} of the "
        f"{numerals.plain(needed)} degrees of freedom that it takes{and_here}. One {speech.things.one} "
        f"{speech.things.done} {numerals.plain(needed + 1)} times, with a scan each time, has them."
    )


def _nothing_to_compare(speech: Speech, _evidence: Evidence) -> str:
    return f"A comparison needs two {speech.things.many} at least."


def _no_level(_speech: Speech, _evidence: Evidence) -> str:
    return (
        "No signal has a level in every run, or all of them stand at one end of the meter's scale in every "
        "run: such readings say nothing about which is higher."
    )


def _not_judged(speech: Speech, evidence: Evidence) -> str:
    names = speech.names(evidence["elements"])
    return f"Not judged, for want of runs that can be compared with the others: {names}."


def _stopped(speech: Speech, evidence: Evidence) -> str:
    causes = listed([phrase(caution["code"]) for caution in doc.stops(speech.document)])
    standing = [f"{speech.name(a)} against {speech.name(b)}" for a, b in evidence["pairs_standing"]]
    stands = (
        f"Still standing: {listed(standing)}." if standing else "No clear result of a pair is left standing."
    )
    return sentences(f"Stopped by: {causes}.", stands)


def _present_look(_speech: Speech, evidence: Evidence) -> str:
    return (
        f"The rounds up to now, taken alone, would say “{evidence['outcome']}”; the earlier decision "
        "stands, and the error rate counts it."
    )


def _too_fine(_speech: Speech, _evidence: Evidence) -> str:
    return "The difference is too fine for this meter and site: sixty rounds would probably not settle it."


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
