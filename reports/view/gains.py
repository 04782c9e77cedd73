"""Signals gained and lost round by round, against one element."""

from reports import document as doc
from reports.charts.pictures import GainRow, Gains
from reports.language import say
from reports.view.model import Draw, Figure
from reports.wording.speech import Speech

FEWEST_ROUNDS, MOST_ROUNDS, MOST_ROWS = 2, 12, 8


def figure(speech: Speech, draw: Draw) -> tuple[Figure, ...]:
    """The picture, or nothing where there are no two rounds or no signal was gained or lost at all."""
    found = speech.document["reception"]
    if "against" not in found:  # an analysis kept by an earlier version
        return ()
    others = [entry for entry in _ordered(speech) if entry["id"] != found["against"]]
    moved = [entry for entry in others if _sum(entry, "gained") or _sum(entry, "lost")]
    rounds = sorted({run["round"] for entry in others for run in entry["by_round"]})
    if len(rounds) < FEWEST_ROUNDS or not moved:
        return ()
    late, shown = rounds[-MOST_ROUNDS:], moved[:MOST_ROWS]
    base = speech.label(found["against"])
    picture = Gains(
        tuple(late),
        tuple(_row(speech, entry, late) for entry in shown),
        say("gained on {element}", element=base),
        say("lost to {element}", element=base),
    )
    told = "; ".join(_told(speech, entry) for entry in moved)
    alt = say(
        "Signals gained and lost in each round against {element}. Over all rounds, {counts}.",
        element=base,
        counts=told,
    )
    caption = _caption(speech, others, drawn=len(shown), rounds=(len(late), len(rounds)))
    return (Figure(draw(picture), alt, caption, "gains"),)


def _ordered(speech: Speech) -> list[doc.Entry]:
    """The entries of the reception part, in the order of the ranking."""
    by_id = {entry["id"]: entry for entry in speech.document["reception"]["elements"]}
    return [by_id[entry["id"]] for entry in doc.in_order(speech.document) if entry["id"] in by_id]


def _sum(entry: doc.Entry, what: str) -> int:
    return sum(run[what] for run in entry["by_round"])


def _row(speech: Speech, entry: doc.Entry, rounds: list[int]) -> GainRow:
    runs = {run["round"]: (run["gained"], run["lost"]) for run in entry["by_round"]}
    return GainRow(speech.label(entry["id"]), tuple(runs.get(number) for number in rounds))


def _told(speech: Speech, entry: doc.Entry) -> str:
    return say(
        "{element}: {gained} gained, {lost} lost",
        element=speech.label(entry["id"]),
        gained=_sum(entry, "gained"),
        lost=_sum(entry, "lost"),
    )


def _caption(speech: Speech, others: list[doc.Entry], *, drawn: int, rounds: tuple[int, int]) -> str:
    """`rounds` are how many are drawn, of how many."""
    same = [entry for entry in others if not (_sum(entry, "gained") or _sum(entry, "lost"))]
    base = speech.name(speech.document["reception"]["against"])
    parts = [
        say(
            "Above each line the signals (RF channels) gained, that {element} did not receive in that round; "
            "below it those lost, that it did receive.",
            element=base,
        )
    ]
    if same:
        names = speech.names(entry["id"] for entry in same)
        parts.append(say("Neither gained nor lost any: {elements}.", elements=names))
    moved = len(others) - len(same)
    if drawn < moved or rounds[0] < rounds[1]:
        parts.append(
            say(
                "Drawn: {shown} of {every} {things}, the last {rounds} of {all_rounds} rounds.",
                shown=drawn,
                every=moved,
                things=speech.things.many,
                rounds=rounds[0],
                all_rounds=rounds[1],
            )
        )
    return " ".join(parts)
