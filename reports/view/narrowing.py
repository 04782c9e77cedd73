"""How the answer narrowed: the leader against its nearest rival at every look, and where it was decided."""

from reports import document as doc
from reports import numerals
from reports.charts.pictures import Bar, Narrowing
from reports.language import say
from reports.view.model import Draw, Figure
from reports.view.one_pair import less
from reports.wording.speech import Speech, sentences
from reports.wording.vocabulary import OUTCOMES

FEWEST_LOOKS, MOST_LOOKS = 2, 14


def figure(speech: Speech, draw: Draw) -> tuple[Figure, ...]:
    """One row a look, or nothing where there were no two looks."""
    taken = speech.document["looks"].get("taken", [])  # analyses kept by earlier versions lack it
    if len(taken) < FEWEST_LOOKS:
        return ()
    shown = _shown(speech, taken)
    margin, unit = speech.trial["margin"], speech.unit.many
    one_pair = len({(look["first"], look["second"]) for look in shown}) == 1
    pair = less(speech, shown[0]) if one_pair else say("leader \N{MINUS SIGN} rival")
    bars = tuple(_bar(speech, look, one_pair=one_pair) for look in shown)
    says = say("too small to act on: within {margin}", margin=speech.margin())
    picture = Narrowing(bars, (-margin, margin), says, f"{pair} ({unit})")
    return (Figure(draw(picture), _alt(speech, shown), _caption(speech, shown, taken), "narrowing"),)


def _shown(speech: Speech, taken: list[doc.Entry]) -> list[doc.Entry]:
    """All looks, or of many the latest and the one that decided."""
    late = taken[-MOST_LOOKS:]
    decided = [look for look in taken if _decided(speech, look)]
    return late if not decided or decided[0] in late else [*decided, *late[1:]]


def _decided(speech: Speech, look: doc.Entry) -> bool:
    return bool(look["round"] == speech.verdict["decided_at_round"])


def _bar(speech: Speech, look: doc.Entry, *, one_pair: bool) -> Bar:
    after, decided = say("round {number}", number=look["round"]), _decided(speech, look)
    outcome = say(OUTCOMES[look["outcome"]])
    return Bar(
        name=after if one_pair else f"{after}: {speech.label(look['first'])}",
        minus="" if one_pair else speech.label(look["second"]),
        value=look["difference"],
        low=look["low"],
        high=look["high"],
        says=say("{outcome}, decided", outcome=outcome) if decided else outcome,
        mark="lead" if decided else "plain",
    )


def _alt(speech: Speech, shown: list[doc.Entry]) -> str:
    return say(
        "The leader against its nearest rival look by look, in {unit}. {looks}.",
        unit=speech.unit.many,
        looks="; ".join(_told(speech, look) for look in shown),
    )


def _told(speech: Speech, look: doc.Entry) -> str:
    between = numerals.between(look["low"], look["high"])
    return say(
        "after round {number}, {pair}: {interval}, {outcome}",
        number=look["round"],
        pair=less(speech, look),
        interval=say("between {span}", span=between) if between else say("no interval"),
        outcome=say(OUTCOMES[look["outcome"]]),
    )


def _caption(speech: Speech, shown: list[doc.Entry], taken: list[doc.Entry]) -> str:
    round_ = speech.verdict["decided_at_round"]
    decided = say("the diamond marks round {number}, which decided", number=round_)
    caption = say(
        "How the interval narrowed: the leader of each look against the rival that came nearest; {decided}. "
        "The outcome beside it is the trial's, by this look alone.",
        decided=decided if round_ else say("none has decided yet"),
    )
    if len(shown) == len(taken):
        return caption
    every = numerals.count(len(taken))
    return sentences(caption, say("Drawn: {shown} of {every} looks.", shown=len(shown), every=every))
