"""How far the leader is ahead, measured against the smallest difference the reader would act on."""

from reports import document as doc
from reports import numerals
from reports.wording.speech import Speech, listed


def sentence(speech: Speech) -> str:
    """The level in one or two plain sentences; it says the same as the ranking picture."""
    best, rivals = doc.leader(speech.document), speech.verdict["against"]
    bounded = [rival for rival in rivals if rival["low"] is not None and rival["high"] is not None]
    if best is None:
        return "Level: nothing to compare."
    if not rivals:
        return "Level: one alone has no difference."
    if not bounded:
        return f"Level: {_seen(speech, best, rivals)} No interval can be given yet, so this may be chance."
    return f"Level: {_reached(speech, best, bounded)}"


def _seen(speech: Speech, best: doc.Entry, rivals: list[doc.Entry]) -> str:
    seen = [rival for rival in rivals if rival["difference"] is not None]
    if not seen:
        return f"{speech.name(best['id'])} is ahead."
    nearest = min(seen, key=lambda rival: rival["difference"])
    step = speech.trial["meter"]["resolution"]
    gap = speech.measured(numerals.estimate(nearest["difference"], step))
    return f"{speech.name(best['id'])} reads {gap} higher than the next, {speech.name(nearest['element'])}."


def _reached(speech: Speech, best: doc.Entry, rivals: list[doc.Entry]) -> str:
    lowest, margin = min(rivals, key=lambda rival: rival["low"]), speech.trial["margin"]
    if lowest["low"] >= margin:
        return (
            f"{speech.name(best['id'])} is ahead of every other by more than the {speech.margin()} you "
            "would act on."
        )
    surely = [rival for rival in rivals if rival["outcome"] == doc.CLEAR]
    if len(surely) == len(rivals):
        return (
            f"{speech.name(best['id'])} is ahead of every other; whether by as much as the "
            f"{speech.margin()} you would act on is not settled for each of them."
        )
    return _widest(speech, best, rivals)


def _widest(speech: Speech, best: doc.Entry, rivals: list[doc.Entry]) -> str:
    unsettled = [rival for rival in rivals if rival["outcome"] != doc.CLEAR]
    ranges = [
        (
            f"{speech.name(rival['element'])} by {numerals.between(rival['low'], rival['high'])} "
            f"{speech.unit.many}"
        )
        for rival in unsettled
    ]
    return f"{speech.name(best['id'])} is ahead of {listed(ranges, most=3)}; below zero means behind."
