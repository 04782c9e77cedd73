"""How far the leader is ahead, measured against the smallest difference the reader would act on."""

from reports import document as doc
from reports import numerals
from reports.language import say
from reports.wording.speech import Speech, listed, sentences


def sentence(speech: Speech) -> str:
    """The level in one or two plain sentences; it says the same as the ranking picture."""
    best, rivals = doc.leader(speech.document), speech.verdict["against"]
    if best is None:
        return say("Level: nothing to compare.")
    if not rivals:
        return say("Level: one alone has no difference.")
    return sentences(say("Level: {ahead}", ahead=_said(speech, best, rivals)), _if_stopped(speech))


def _if_stopped(speech: Speech) -> str:
    if doc.reason(speech.document, "stopped") is None:
        return ""
    return say("That counts only once what stopped the trial is put right.")


def _said(speech: Speech, best: doc.Entry, rivals: list[doc.Entry]) -> str:
    bounded = [rival for rival in rivals if rival["low"] is not None and rival["high"] is not None]
    if speech.verdict["winner"] not in (None, best["id"]):
        return _against_the_winner(speech, best, bounded)
    if not bounded:
        return sentences(
            _seen(speech, best, rivals), say("No interval can be given yet, so this may be chance.")
        )
    return _reached(speech, best, bounded, every=len(bounded) == len(rivals))


def _against_the_winner(speech: Speech, best: doc.Entry, bounded: list[doc.Entry]) -> str:
    """The present leader is not the winner, whose decision stands."""
    winner = speech.verdict["winner"]
    ends = next(((rival["low"], rival["high"]) for rival in bounded if rival["element"] == winner), None)
    where = say(" (the true difference lies {range})", range=speech.between(*ends)) if ends else ""
    return say(
        "over all rounds {element} now reads higher than {winner}{where}; that does not undo what was "
        "settled in round {round}.",
        element=speech.name(best["id"]),
        winner=speech.name(winner),
        where=where,
        round=speech.verdict["decided_at_round"],
    )


def _seen(speech: Speech, best: doc.Entry, rivals: list[doc.Entry]) -> str:
    level = doc.level_at_top(speech.document)
    if level:
        return say("{elements} are level at the top.", elements=speech.names(level))
    seen = [rival for rival in rivals if rival["difference"] is not None]
    if not seen:
        return say("{element} reads highest.", element=speech.name(best["id"]))
    nearest = min(seen, key=lambda rival: rival["difference"])
    gap = speech.measured(numerals.estimate(nearest["difference"], doc.resolution(speech.document)))
    return say(
        "{element} reads {gap} higher than the next, {next}.",
        element=speech.name(best["id"]),
        gap=gap,
        next=speech.name(nearest["element"]),
    )


def _reached(speech: Speech, best: doc.Entry, rivals: list[doc.Entry], *, every: bool) -> str:
    lowest, margin = min(rivals, key=lambda rival: rival["low"]), speech.trial["margin"]
    placed = {"element": speech.name(best["id"]), "others": _every_other(speech), "margin": speech.margin()}
    if every and lowest["low"] >= margin:
        return say("{element} is ahead of {others} by more than the {margin} you would act on.", **placed)
    surely = [rival for rival in rivals if rival["outcome"] == doc.CLEAR]
    if every and len(surely) == len(rivals):
        return say(
            "{element} is ahead of {others}; whether by as much as the {margin} you would act on is not "
            "settled for each of them.",
            **placed,
        )
    return _widest(speech, best, rivals)


def _every_other(speech: Speech) -> str:
    if doc.not_judged(speech.document):
        return say("every other that was judged")
    return say("every other")


def _widest(speech: Speech, best: doc.Entry, rivals: list[doc.Entry]) -> str:
    """The range of each that is not surely behind; an exact tie is no lead."""
    level = {*doc.level_at_top(speech.document)} - {best["id"]}
    unsettled = [rival for rival in rivals if rival["outcome"] != doc.CLEAR]
    ahead = [_range(speech, rival) for rival in unsettled if rival["element"] not in level]
    tied = [_range(speech, rival) for rival in unsettled if rival["element"] in level]
    placed = {
        "element": speech.name(best["id"]),
        "level": listed(tied, most=3),
        "others": listed(ahead, most=3),
    }
    if tied and ahead:
        return say(
            "{element} is level with {level} and is ahead of {others}; below zero means behind.", **placed
        )
    if tied:
        return say("{element} is level with {level}; below zero means behind.", **placed)
    return say("{element} is ahead of {others}; below zero means behind.", **placed)


def _range(speech: Speech, rival: doc.Entry) -> str:
    name, told = speech.name(rival["element"]), speech.span(rival["low"], rival["high"])
    if rival["element"] in doc.level_at_top(speech.document):
        return say("{element} (true difference {range})", element=name, range=told)
    return say("{element} by {amount}", element=name, amount=told)
