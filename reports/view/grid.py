"""Every pair as a tile: how each element did against each other one, in one table of tiles."""

from reports import document as doc
from reports.charts.pictures import Grid, Meeting
from reports.language import say, say_as
from reports.view.model import Draw, Figure
from reports.view.one_pair import difference
from reports.wording.speech import Speech, sentences

MOST_ELEMENTS = 20
FEWEST_ELEMENTS = 3


def figure(speech: Speech, draw: Draw) -> tuple[Figure, ...]:
    """The tiles of the first twenty by ranking, or nothing where there is one pair only or no difference."""
    ranked = [entry["id"] for entry in doc.in_order(speech.document)]
    shown = ranked[:MOST_ELEMENTS]
    met = {frozenset((pair["first"], pair["second"])): pair for pair in speech.document["pairs"]}
    pairs = [pair for pair in met.values() if {pair["first"], pair["second"]} <= set(shown)]
    if len(shown) < FEWEST_ELEMENTS or all(pair["difference"] is None for pair in pairs):
        return ()
    rows = tuple(tuple(_meeting(speech, met.get(frozenset((a, b))), a) for b in shown) for a in shown)
    picture = Grid(tuple(speech.label(name) for name in shown), rows, _legend(speech))
    return (Figure(draw(picture), _alt(speech, shown, pairs), _caption(speech, shown, ranked), "grid"),)


def _meeting(speech: Speech, pair: doc.Entry | None, row: str) -> Meeting:
    """The tile of a row's element against a column's; None on the diagonal."""
    if pair is None or pair["difference"] is None:
        return Meeting("none", "", "")
    marks = {doc.WITHIN: "as good", doc.MORE: "open"}
    mark = marks.get(pair["outcome"]) or ("better" if pair["winner"] == row else "worse")
    sign = 1 if pair["first"] == row else -1
    return Meeting(mark, _words()[mark], difference(speech, pair, sign=sign))


def _words() -> dict[str, str]:
    """What stands in a tile, by its mark."""
    return {
        "better": say_as("one against another", "better"),
        "worse": say_as("one against another", "worse"),
        "as good": say_as("one against another", "as good"),
        "open": say_as("one against another", "open"),
    }


def _legend(speech: Speech) -> tuple[str, ...]:
    return (
        say(
            "Each row against each column; the number is row \N{MINUS SIGN} column, in {unit}.",
            unit=speech.unit.many,
        ),
        say(
            "better (+, filled) or worse (\N{MINUS SIGN}, hatched): settled \N{MIDDLE DOT} "
            "as good (=, ruled): within noise \N{MIDDLE DOT} open (?, blank): needs more runs"
        ),
    )


def _alt(speech: Speech, shown: list[str], pairs: list[doc.Entry]) -> str:
    told = [_told(speech, name, pairs) for name in shown]
    return sentences(say("Every pair of {elements} as a tile.", elements=speech.compared(len(shown))), *told)


def _told(speech: Speech, name: str, pairs: list[doc.Entry]) -> str:
    mine = [pair for pair in pairs if name in (pair["first"], pair["second"])]
    better = sum(pair["winner"] == name for pair in mine)
    worse = sum(pair["winner"] not in (None, name) for pair in mine)
    level = sum(pair["outcome"] == doc.WITHIN for pair in mine)
    return say(
        "{element}: better than {better}, worse than {worse}, as good as {level}, open against {open}.",
        element=speech.label(name),
        better=better,
        worse=worse,
        level=level,
        open=len(mine) - better - worse - level,
    )


def _caption(speech: Speech, shown: list[str], ranked: list[str]) -> str:
    glance = say(
        "Every pair at a glance: read a row to see how one {thing} did against all.", thing=speech.things.one
    )
    if len(shown) == len(ranked):
        return glance
    drawn = say("Drawn: the first {shown} of {every}.", shown=len(shown), every=len(ranked))
    return sentences(glance, drawn)
