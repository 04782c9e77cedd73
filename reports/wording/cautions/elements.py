"""Messages about the elements themselves: shapes that differ, gauges, more than a metal can do."""

from reports import document as doc
from reports import numerals
from reports.wording.speech import Speech, listed, sentences

MOST_PAIRS = 4


def geometry_differs(speech: Speech, evidence: doc.Entry) -> str:
    """Elements of different metals that differ in diameter or length."""
    pairs = [_shapes(speech, pair) for pair in evidence["pairs"]]
    return sentences(
        f"Said to differ in metal, they differ in shape too: {listed(pairs, most=MOST_PAIRS)}.",
        _strips(speech, evidence),
        "Another length shifts the tuning, and another diameter changes what the receiver sees: both can do "
        "more than any metal. Cut them to one length and take one diameter to compare metals.",
    )


def several_things_differ(speech: Speech, evidence: doc.Entry) -> str:
    """Metal and diameter at once."""
    pairs = [f"{speech.name(first)} and {speech.name(second)}" for first, second in evidence["pairs"]]
    return (
        f"Metal and diameter differ at once between {listed(pairs, most=MOST_PAIRS, joined='; and')}. "
        "The trial can tell which of them reads better, and not whether metal or diameter makes it."
    )


def gauge_table_unknown(speech: Speech, evidence: doc.Entry) -> str:
    """A gauge number without its table."""
    told = [_gauge(speech, entry) for entry in evidence["elements"]]
    return sentences(
        *told, "Measure the diameter and give it in millimetres, or name the table in gauge.table."
    )


def beyond_conductor_loss(speech: Speech, evidence: doc.Entry) -> str:
    """A difference that no conductor loss explains."""
    pairs = [_beyond(speech, pair) for pair in evidence["pairs"]]
    return (
        f"{listed(pairs, most=MOST_PAIRS)}. That is over {numerals.plain(evidence['times'])} times as much: "
        "something else than the metal makes it. Look at length, diameter, the joint at the feed point, the "
        "aim and the height."
    )


def _beyond(speech: Speech, pair: doc.Entry) -> str:
    amount = speech.amount(pair["difference"], pair["difference"] / 10)
    return (
        f"{speech.name(pair['first'])} reads {amount} above {speech.name(pair['second'])}, where their "
        f"metals can make {numerals.two_digits(pair['metal_bound_db'])} dB at most"
    )


def _strips(speech: Speech, evidence: doc.Entry) -> str:
    """What the diameter of a strip is, where one is named."""
    strips = {entry["id"] for entry in speech.trial["elements"] if entry.get("form") == "strip"}
    named = {pair[place] for pair in evidence["pairs"] for place in ("first", "second")}
    return "A flat strip counts as a round wire of half its width." if strips & named else ""


def _shapes(speech: Speech, pair: doc.Entry) -> str:
    how = [
        f"{what} by {numerals.plain(round(share * 100, 1))} %"
        for what, share in (("diameter", pair["diameter"]), ("length", pair["length"]))
        if share is not None
    ]
    return f"{speech.name(pair['first'])} and {speech.name(pair['second'])} in {listed(how)}"


def _gauge(speech: Speech, entry: doc.Entry) -> str:
    means = [f"{numerals.fixed(each['diameter_mm'], 2)} mm in {each['table']}" for each in entry["meanings"]]
    told = f"alone means {listed(means, joined='or')}" if means else "stands in no table known here"
    return f"{speech.name(entry['element'])}: gauge number {entry['number']} {told}."
