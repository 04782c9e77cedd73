"""How far the leader is ahead, measured against the smallest difference the reader would act on."""

from reports import document as doc
from reports import numerals
from reports.wording.speech import Speech, listed, sentences


def sentence(speech: Speech) -> str:
    """The level in one or two plain sentences; it says the same as the ranking picture."""
    best, rivals = doc.leader(speech.document), speech.verdict["against"]
    if best is None:
        return "Level: nothing to compare."
    if not rivals:
        return "Level: one alone has no difference."
    return sentences(f"Level: {_said(speech, best, rivals)}", _if_stopped(speech))


def _if_stopped(speech: Speech) -> str:
    if doc.reason(speech.document, "stopped") is None:
        return ""
    return "That counts only once what stopped the trial is put right."


def _said(speech: Speech, best: doc.Entry, rivals: list[doc.Entry]) -> str:
    bounded = [rival for rival in rivals if rival["low"] is not None and rival["high"] is not None]
    if speech.verdict["winner"] not in (None, best["id"]):
        return _against_the_winner(speech, best, bounded)
    if not bounded:
        return f"{_seen(speech, best, rivals)} No interval can be given yet, so this may be chance."
    return _reached(speech, best, bounded, every=len(bounded) == len(rivals))


def _against_the_winner(speech: Speech, best: doc.Entry, bounded: list[doc.Entry]) -> str:
    """The present leader is not the winner, whose decision stands."""
    winner = speech.verdict["winner"]
    ends = next(((rival["low"], rival["high"]) for rival in bounded if rival["element"] == winner), None)
    where = f" (the true difference lies {speech.between(*ends)})" if ends else ""
    return (
        f"over all rounds {speech.name(best['id'])} now reads higher than {speech.name(winner)}{where}; "
        f"that does not undo what was settled in round {speech.verdict['decided_at_round']}."
    )


def _seen(speech: Speech, best: doc.Entry, rivals: list[doc.Entry]) -> str:
    level = doc.level_at_top(speech.document)
    if level:
        return f"{speech.names(level)} are level at the top."
    seen = [rival for rival in rivals if rival["difference"] is not None]
    if not seen:
        return f"{speech.name(best['id'])} reads highest."
    nearest = min(seen, key=lambda rival: rival["difference"])
    gap = speech.measured(numerals.estimate(nearest["difference"], doc.resolution(speech.document)))
    return f"{speech.name(best['id'])} reads {gap} higher than the next, {speech.name(nearest['element'])}."


def _reached(speech: Speech, best: doc.Entry, rivals: list[doc.Entry], *, every: bool) -> str:
    lowest, margin = min(rivals, key=lambda rival: rival["low"]), speech.trial["margin"]
    other = "every other that was judged" if doc.not_judged(speech.document) else "every other"
    if every and lowest["low"] >= margin:
        return f"{speech.name(best['id'])} is ahead of {other} by more than the {speech.margin()} you " + (
            "would act on."
        )
    surely = [rival for rival in rivals if rival["outcome"] == doc.CLEAR]
    if every and len(surely) == len(rivals):
        return (
            f"{speech.name(best['id'])} is ahead of {other}; whether by as much as the "
            f"{speech.margin()} you would act on is not settled for each of them."
        )
    return _widest(speech, best, rivals)


def _widest(speech: Speech, best: doc.Entry, rivals: list[doc.Entry]) -> str:
    """The range of each that is not surely behind; an exact tie is no lead."""
    level = {*doc.level_at_top(speech.document)} - {best["id"]}
    unsettled = [rival for rival in rivals if rival["outcome"] != doc.CLEAR]
    ahead = [_range(speech, rival) for rival in unsettled if rival["element"] not in level]
    tied = [_range(speech, rival) for rival in unsettled if rival["element"] in level]
    parts = [f"is level with {listed(tied, most=3)}"] if tied else []
    parts += [f"is ahead of {listed(ahead, most=3)}"] if ahead else []
    return f"{speech.name(best['id'])} {' and '.join(parts)}; below zero means behind."


def _range(speech: Speech, rival: doc.Entry) -> str:
    between = numerals.between(rival["low"], rival["high"])
    told = f"{between} {speech.unit.many}"
    if rival["element"] in doc.level_at_top(speech.document):
        return f"{speech.name(rival['element'])} (true difference {told})"
    return f"{speech.name(rival['element'])} by {told}"
