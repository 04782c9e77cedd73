"""Every pair: the difference first, then its interval, then p; and beside it what decides nothing."""

from reports import document as doc
from reports import numerals
from reports.charts.pictures import Bar, Pairs
from reports.language import marked, say
from reports.view import grid
from reports.view.model import Bounds, Draw, Figure, Section, Table
from reports.view.one_pair import difference, less
from reports.view.pairs_beside import are_all_equal, beside
from reports.view.sure import this_look
from reports.view.tables import table
from reports.wording.speech import Speech, sentences
from reports.wording.vocabulary import OUTCOMES

MOST_DRAWN = 12
_FIRST = marked("{outcome}: the first")
_SECOND = marked("{outcome}: the second")


def section(speech: Speech, draw: Draw, bounds: Bounds) -> Section:
    """The pairs, or the sentence that there are none."""
    pairs = speech.document["pairs"]
    if not pairs:
        nothing = say("There is only one {thing}: no pair to compare.", thing=speech.things.one)
        return Section(anchor="pairs", title=say("Pair by pair"), paragraphs=(nothing,))
    named = [(less(speech, pair), pair) for pair in _leaders_first(speech)]
    return Section(
        anchor="pairs",
        title=say("Pair by pair"),
        paragraphs=(_introduction(speech),),
        figures=(*grid.figure(speech, draw), *_figure(speech, draw, bounds)),
        tables=(_table(speech, bounds), beside(speech, named, bounds)),
        remarks=tuple(are_all_equal(speech)),
    )


def _introduction(speech: Speech) -> str:
    adjusted = (
        say("adjusted for all {number} pairs together", number=len(speech.document["pairs"]))
        if len(speech.document["elements"]) > 2
        else say("one pair, so nothing to adjust for")
    )
    what = say(
        "Difference = first \N{MINUS SIGN} second, in {unit}. Intervals at {level}, {adjusted}. p is the "
        "pair's own, by flipping the signs of its round differences; adjusted p is read against all pairs.",
        unit=speech.unit.many,
        level=numerals.per_cent(speech.trial["confidence"]),
        adjusted=adjusted,
    )
    return sentences(what, _level_of_look(speech))


def _level_of_look(speech: Speech) -> str:
    now = this_look(speech)
    if now is None or now["level"] is None:
        return say("This is no look: no pair can be decided here.")
    return say("The level that this look may use is {level}.", level=numerals.probability(now["level"]))


def _figure(speech: Speech, draw: Draw, bounds: Bounds) -> tuple[Figure, ...]:
    most = min(MOST_DRAWN, bounds.picture_rows)
    shown = [pair for pair in _leaders_first(speech) if pair["difference"] is not None][:most]
    if not shown:
        return ()
    bars = tuple(_bar(speech, pair) for pair in shown)
    margin = speech.trial["margin"]
    picture = Pairs(
        bars,
        (-margin, margin),
        say("too small to act on: within {margin}", margin=speech.margin()),
        say("difference ({unit})", unit=speech.unit.many),
    )
    seen = [
        f"{less(speech, pair)}: {difference(speech, pair)}, {say(OUTCOMES[pair['outcome']])}"
        for pair in shown
    ]
    alt = say("Differences of pairs in {unit}. {pairs}.", unit=speech.unit.many, pairs="; ".join(seen))
    return (Figure(draw(picture), alt, _caption(len(shown), len(speech.document["pairs"])), "pairs"),)


def _caption(shown: int, every: int) -> str:
    caption = say(
        "Each pair as a difference with its interval; the hatched band is the margin on both sides of zero."
    )
    if shown == every:
        return caption
    return sentences(caption, say("The first {shown} of {every} pairs.", shown=shown, every=every))


def _leaders_first(speech: Speech) -> list[doc.Entry]:
    best = doc.leader(speech.document)
    mine = best["id"] if best else None
    return sorted(speech.document["pairs"], key=lambda pair: mine not in (pair["first"], pair["second"]))


def _bar(speech: Speech, pair: doc.Entry) -> Bar:
    low, high = doc.ends(pair["interval"])
    return Bar(
        name=speech.label(pair["first"]),
        minus=speech.label(pair["second"]),
        value=pair["difference"],
        low=low,
        high=high,
        says=say(OUTCOMES[pair["outcome"]]),
        mark="plain",
    )


def _table(speech: Speech, bounds: Bounds) -> Table:
    headings = [
        (say("pair"), "name wide"),
        (say("difference ({unit})", unit=speech.unit.many), "number"),
        (say("interval, {level}", level=numerals.per_cent(speech.trial["confidence"])), "number"),
        ("p", "number"),
        (say("adjusted p"), "number"),
        (say("outcome"), "words"),
    ]
    rows = [_row(speech, pair) for pair in _leaders_first(speech)]
    return table(say("Differences with their intervals"), headings, rows, most=bounds.rows)


def _row(speech: Speech, pair: doc.Entry) -> list[str]:
    return [
        less(speech, pair),
        difference(speech, pair),
        numerals.between(*doc.ends(pair["interval"])),
        numerals.probability(pair["p_value"]),
        numerals.probability(pair["adjusted_p_value"]),
        _outcome(pair),
    ]


def _outcome(pair: doc.Entry) -> str:
    """The outcome, which of the two won, since which round, or how many rounds it may still take."""
    outcome, number, more = say(OUTCOMES[pair["outcome"]]), pair["decided_at_round"], pair["more_rounds"]
    won = {pair["first"]: _FIRST, pair["second"]: _SECOND}.get(pair["winner"])
    parts = [
        say(won, outcome=outcome) if won else outcome,
        say("round {number}", number=number) if number else "",
        say("about {number}", number=numerals.count(more)) if more else "",
    ]
    return ", ".join(part for part in parts if part)
