"""Messages about the elements themselves: shapes that differ, gauges, more than a metal can do."""

from reports import document as doc
from reports import numerals
from reports.language import say
from reports.wording.speech import Speech, listed, sentences

MOST_PAIRS = 4


def geometry_differs(speech: Speech, evidence: doc.Entry) -> str:
    """Elements of different metals that differ in diameter or length."""
    pairs = listed([_shapes(speech, pair) for pair in evidence["pairs"]], most=MOST_PAIRS)
    return sentences(
        say("Said to differ in metal, they differ in shape too: {pairs}.", pairs=pairs),
        _strips(speech, evidence),
        say(
            "Another length shifts the tuning, and another diameter changes what the receiver sees: both can "
            "do more than any metal. Cut them to one length and take one diameter to compare metals."
        ),
    )


def several_things_differ(speech: Speech, evidence: doc.Entry) -> str:
    """Metal and diameter at once."""
    pairs = [speech.names(pair) for pair in evidence["pairs"]]
    return say(
        "Metal and diameter differ at once between {pairs}. The trial can tell which of them reads better, "
        "and not whether metal or diameter makes it.",
        pairs=listed(pairs, most=MOST_PAIRS, joined="; and"),
    )


def gauge_table_unknown(speech: Speech, evidence: doc.Entry) -> str:
    """A gauge number without its table."""
    return sentences(
        gauges(speech, evidence),
        say(
            "Measure the diameter and give it in millimetres, or name the table in {field}.",
            field="gauge.table",
        ),
    )


def gauges(speech: Speech, evidence: doc.Entry) -> str:
    """What each gauge number may mean, without what to do about it."""
    return sentences(*(_gauge(speech, entry) for entry in evidence["elements"]))


def beyond_conductor_loss(speech: Speech, evidence: doc.Entry) -> str:
    """A difference that no conductor loss explains."""
    return say(
        "{pairs}. That is over {times} times as much: something else than the metal makes it. Look at "
        "length, diameter, the joint at the feed point, the aim and the height.",
        pairs=listed([_beyond(speech, pair) for pair in evidence["pairs"]], most=MOST_PAIRS),
        times=numerals.plain(evidence["times"]),
    )


def _beyond(speech: Speech, pair: doc.Entry) -> str:
    return say(
        "{first} reads {amount} above {second}, where their metals can make {bound} dB at most",
        first=speech.name(pair["first"]),
        second=speech.name(pair["second"]),
        amount=speech.amount(pair["difference"], pair["difference"] / 10),
        bound=numerals.two_digits(pair["metal_bound_db"]),
    )


def _strips(speech: Speech, evidence: doc.Entry) -> str:
    """What the diameter of a strip is, where one is named."""
    strips = {entry["id"] for entry in speech.trial["elements"] if entry.get("form") == "strip"}
    named = {pair[place] for pair in evidence["pairs"] for place in ("first", "second")}
    return say("A flat strip counts as a round wire of half its width.") if strips & named else ""


def _shapes(speech: Speech, pair: doc.Entry) -> str:
    diameter, length = pair["diameter"], pair["length"]
    how = [say("diameter by {share}", share=numerals.per_cent(diameter))] if diameter is not None else []
    how += [say("length by {share}", share=numerals.per_cent(length))] if length is not None else []
    return say(
        "{first} and {second} in {differences}",
        first=speech.name(pair["first"]),
        second=speech.name(pair["second"]),
        differences=listed(how),
    )


def _gauge(speech: Speech, entry: doc.Entry) -> str:
    placed = {"element": speech.name(entry["element"]), "gauge": entry["number"]}
    if not entry["meanings"]:
        return say("{element}: gauge number {gauge} stands in no table known here.", **placed)
    means = [
        say("{diameter} mm in {table}", diameter=numerals.fixed(each["diameter_mm"], 2), table=each["table"])
        for each in entry["meanings"]
    ]
    return say(
        "{element}: gauge number {gauge} alone means {diameters}.",
        **placed,
        diameters=listed(means, joined="or"),
    )
