"""Every pair: the difference first, then its interval, then p; and beside it what decides nothing."""

from reports import document as doc
from reports import numerals
from reports.charts.pictures import Bar, Pairs
from reports.view import grid
from reports.view.model import Bounds, Draw, Figure, Section, Table
from reports.view.sure import this_look
from reports.view.tables import table
from reports.wording.speech import Speech

MOST_DRAWN = 12


def section(speech: Speech, draw: Draw, bounds: Bounds) -> Section:
    """The pairs, or the sentence that there are none."""
    pairs = speech.document["pairs"]
    if not pairs:
        nothing = f"There is only one {speech.things.one}: no pair to compare."
        return Section(anchor="pairs", title="Pair by pair", paragraphs=(nothing,))
    return Section(
        anchor="pairs",
        title="Pair by pair",
        paragraphs=(_introduction(speech),),
        figures=(*grid.figure(speech, draw), *_figure(speech, draw, bounds)),
        tables=(_table(speech, bounds), _beside(speech, bounds)),
        remarks=tuple(_remarks(speech)),
    )


def pair_name(speech: Speech, pair: doc.Entry) -> str:
    """A pair as "first minus second", in the order of its difference."""
    return f"{speech.label(pair['first'])} {numerals.MINUS} {speech.label(pair['second'])}"


def _introduction(speech: Speech) -> str:
    level = numerals.per_cent(speech.trial["confidence"])
    many = len(speech.document["elements"]) > 2
    adjusted = (
        f"adjusted for all {len(speech.document['pairs'])} pairs together"
        if many
        else "one pair, so nothing to adjust for"
    )
    at = _level_of_look(speech)
    return (
        f"Difference = first {numerals.MINUS} second, in {speech.unit.many}. Intervals at {level}, "
        f"{adjusted}. p is the pair's own, by flipping the signs of its round differences; adjusted p is "
        f"read against all pairs.{at}"
    )


def _level_of_look(speech: Speech) -> str:
    now = this_look(speech)
    if now is None or now["level"] is None:
        return " This is no look: no pair can be decided here."
    return f" The level that this look may use is {numerals.probability(now['level'])}."


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
        f"too small to act on: within {speech.margin()}",
        f"difference ({speech.unit.many})",
    )
    seen = "; ".join(
        f"{pair_name(speech, pair)}: {_difference(speech, pair)}, {pair['outcome']}" for pair in shown
    )
    of = (
        f" The first {len(shown)} of {len(speech.document['pairs'])} pairs."
        if len(shown) < len(speech.document["pairs"])
        else ""
    )
    caption = (
        "Each pair as a difference with its interval; the hatched band is the margin on both sides of "
        f"zero.{of}"
    )
    return (Figure(draw(picture), f"Differences of pairs in {speech.unit.many}. {seen}.", caption, "pairs"),)


def _leaders_first(speech: Speech) -> list[doc.Entry]:
    best = doc.leader(speech.document)
    mine = best["id"] if best else None
    return sorted(speech.document["pairs"], key=lambda pair: mine not in (pair["first"], pair["second"]))


def _bar(speech: Speech, pair: doc.Entry) -> Bar:
    ends = pair["interval"] or {"low": None, "high": None}
    return Bar(
        name=speech.label(pair["first"]),
        minus=speech.label(pair["second"]),
        value=pair["difference"],
        low=ends["low"],
        high=ends["high"],
        says=pair["outcome"],
        mark="plain",
    )


def _difference(speech: Speech, pair: doc.Entry) -> str:
    ends = pair["interval"]
    width = numerals.half_width(ends["low"], ends["high"]) if ends else pair["standard_error"]
    return numerals.signed(pair["difference"], width or doc.resolution(speech.document))


def _table(speech: Speech, bounds: Bounds) -> Table:
    headings = [
        ("pair", "name wide"),
        (f"difference ({speech.unit.many})", "number"),
        (f"interval, {numerals.per_cent(speech.trial['confidence'])}", "number"),
        ("p", "number"),
        ("adjusted p", "number"),
        ("outcome", "words"),
    ]
    rows = [_row(speech, pair) for pair in _leaders_first(speech)]
    return table("Differences with their intervals", headings, rows, most=bounds.rows)


def _row(speech: Speech, pair: doc.Entry) -> list[str]:
    ends = pair["interval"]
    return [
        pair_name(speech, pair),
        _difference(speech, pair),
        numerals.between(ends["low"], ends["high"]) if ends else "",
        numerals.probability(pair["p_value"]),
        numerals.probability(pair["adjusted_p_value"]),
        _outcome(pair),
    ]


def _outcome(pair: doc.Entry) -> str:
    """The outcome, which of the two won, since which round, or how many rounds it may still take."""
    which = {None: "", pair["first"]: ": the first", pair["second"]: ": the second"}[pair["winner"]]
    since = f", round {pair['decided_at_round']}" if pair["decided_at_round"] else ""
    more = f", about {numerals.count(pair['more_rounds'])}" if pair["more_rounds"] else ""
    return f"{pair['outcome']}{which}{since}{more}"


def _beside(speech: Speech, bounds: Bounds) -> Table:
    headings = [
        ("pair", "name wide"),
        ("other rounds and channels", "number"),
        ("signed-rank p", "number"),
        ("sign test: + / \N{MINUS SIGN} / 0, p", "number"),
        (f"Hodges-Lehmann{_level(speech)}", "number"),
        ("rank-biserial", "number"),
        ("signals: first / second / neither", "number"),
    ]
    rows = [_beside_row(speech, pair) for pair in _leaders_first(speech)]
    notes = (
        "Nothing in this table decides anything, and nothing is adjusted for several pairs. “Other rounds "
        "and "
        "channels”: crossed bootstrap, for the question whether it would hold on other rounds and other "
        "channels too; it needs 4 rounds and 3 signals.",
    )
    return table("Beside it, for checking", headings, rows, most=bounds.rows, notes=notes)


def _beside_row(speech: Speech, pair: doc.Entry) -> list[str]:
    boot, signs, counts = pair["bootstrap"], pair["sign_test"], pair["rf_channels"]
    return [
        pair_name(speech, pair),
        numerals.between(boot["low"], boot["high"]) if boot else "",
        numerals.probability(pair["signed_rank"]["p_value"]) if pair["signed_rank"] else "",
        _signs(signs),
        _walsh(speech, pair["hodges_lehmann"]),
        numerals.fixed(pair["rank_biserial"], 2) if pair["rank_biserial"] is not None else "",
        f"{counts['favour_first']} / {counts['favour_second']} / {counts['ties']}" if counts else "",
    ]


def _walsh(speech: Speech, found: doc.Entry | None) -> str:
    if not found or found["estimate"] is None:
        return ""
    low, high = found["low"], found["high"]
    if low is None or high is None:
        return numerals.estimate(found["estimate"], doc.resolution(speech.document))
    middle = numerals.estimate(found["estimate"], numerals.half_width(low, high))
    return f"{middle} ({numerals.between(low, high)})"


def _level(speech: Speech) -> str:
    found = [pair["hodges_lehmann"] for pair in speech.document["pairs"] if pair["hodges_lehmann"]]
    levels = sorted({numerals.per_cent(entry["level"]) for entry in found if entry["level"] is not None})
    return f" ({' or '.join(levels[:2])})" if levels else ""


def _signs(found: doc.Entry | None) -> str:
    if not found or found["positive"] is None:
        return ""
    p = numerals.probability(found["p_value"])
    return f"{found['positive']} / {found['negative']} / {found['ties']}" + (f", {p}" if p else "")


def _remarks(speech: Speech) -> list[str]:
    found = speech.document["all_equal"]
    if not found or found["statistic"] is None:
        return []
    words = (
        f"Are all equal? Friedman's test over rounds: statistic {numerals.fixed(found['statistic'], 2)}, "
        f"p {_equals(found['p_value'])} ({found['method']})"
    )
    agree = found["kendall_w"]
    return [
        f"{words}; agreement of the rounds, Kendall's W {numerals.fixed(agree, 2)}."
        if agree is not None
        else f"{words}."
    ]


def _equals(p: float) -> str:
    text = numerals.probability(p)
    return text if text.startswith("<") else f"= {text}"
