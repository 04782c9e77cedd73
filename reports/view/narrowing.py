"""How the answer narrowed: the leader against its nearest rival at every look, and where it was decided."""

from reports import document as doc
from reports import numerals
from reports.charts.pictures import Bar, Narrowing
from reports.view.model import Draw, Figure
from reports.wording.speech import Speech

FEWEST_LOOKS, MOST_LOOKS = 2, 14


def figure(speech: Speech, draw: Draw) -> tuple[Figure, ...]:
    """One row a look, or nothing where there were no two looks."""
    taken = speech.document["looks"].get("taken", [])  # analyses kept by earlier versions lack it
    if len(taken) < FEWEST_LOOKS:
        return ()
    shown = _shown(speech, taken)
    margin, unit = speech.trial["margin"], speech.unit.many
    one_pair = len({(look["first"], look["second"]) for look in shown}) == 1
    axis = f"{_pair(speech, shown[0])} ({unit})" if one_pair else f"leader {numerals.MINUS} rival ({unit})"
    bars = tuple(_bar(speech, look, one_pair=one_pair) for look in shown)
    says = f"too small to act on: within {speech.margin()}"
    picture = Narrowing(bars, (-margin, margin), says, axis)
    return (Figure(draw(picture), _alt(speech, shown), _caption(speech, shown, taken), "narrowing"),)


def _shown(speech: Speech, taken: list[doc.Entry]) -> list[doc.Entry]:
    """All looks, or of many the latest and the one that decided."""
    late = taken[-MOST_LOOKS:]
    decided = [look for look in taken if _decided(speech, look)]
    return late if not decided or decided[0] in late else [*decided, *late[1:]]


def _decided(speech: Speech, look: doc.Entry) -> bool:
    return bool(look["round"] == speech.verdict["decided_at_round"])


def _pair(speech: Speech, look: doc.Entry) -> str:
    return f"{speech.label(look['first'])} {numerals.MINUS} {speech.label(look['second'])}"


def _bar(speech: Speech, look: doc.Entry, *, one_pair: bool) -> Bar:
    after, decided = f"round {look['round']}", _decided(speech, look)
    return Bar(
        name=after if one_pair else f"{after}: {speech.label(look['first'])}",
        minus="" if one_pair else speech.label(look["second"]),
        value=look["difference"],
        low=look["low"],
        high=look["high"],
        says=f"{look['outcome']}, decided" if decided else look["outcome"],
        mark="lead" if decided else "plain",
    )


def _alt(speech: Speech, shown: list[doc.Entry]) -> str:
    told = [
        f"after round {look['round']}, {_pair(speech, look)}: {_between(look)}, {look['outcome']}"
        for look in shown
    ]
    return f"The leader against its nearest rival look by look, in {speech.unit.many}. {'; '.join(told)}."


def _between(look: doc.Entry) -> str:
    between = numerals.between(look["low"], look["high"])
    return f"between {between}" if between else "no interval"


def _caption(speech: Speech, shown: list[doc.Entry], taken: list[doc.Entry]) -> str:
    round_ = speech.verdict["decided_at_round"]
    end = f"the diamond marks round {round_}, which decided" if round_ else "none has decided yet"
    left = f" Drawn: {len(shown)} of {numerals.count(len(taken))} looks." if len(shown) < len(taken) else ""
    return (
        "How the interval narrowed: the leader of each look against the rival that came nearest; "
        f"{end}. The outcome beside it is the trial's, by this look alone.{left}"
    )
