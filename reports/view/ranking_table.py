"""The ranking as a table: place, distance, total, signals, cost and standing of every element."""

from reports import document as doc
from reports import numerals
from reports.language import say, say_as
from reports.view.model import Bounds, Table
from reports.view.ranking import behind, in_short, score, uncertainty
from reports.view.tables import table
from reports.wording import reception, value_pick
from reports.wording.speech import Speech


def ranking_table(speech: Speech, bounds: Bounds) -> Table:
    """Place, difference, interval, total, signals, cost and standing of every element."""
    entries = doc.in_order(speech.document)[: bounds.rows]
    totals = any(entry["total"] is not None for entry in entries)
    costs = any(entry["cost"] for entry in entries)
    best = doc.leader(speech.document)
    rows = [_row(speech, entry, totals=totals, costs=costs) for entry in entries]
    marked = frozenset(
        place for place, entry in enumerate(entries) if best is not None and entry["id"] == best["id"]
    )
    every = len(speech.document["elements"])
    left = say("{number} more stand under “The trial”.", number=every - len(entries))
    notes = (*([_total_note(speech)] if totals else []), *([left] if every > len(entries) else []))
    headings = _headings(speech, totals=totals, costs=costs)
    return table(_title(speech), headings, rows, most=len(rows), kind="stacked", marked=marked, notes=notes)


def _headings(speech: Speech, *, totals: bool, costs: bool) -> list[tuple[str, str]]:
    return [
        (speech.things.one, "name"),
        (say_as("rank", "place"), "number"),
        (say("average ({unit})", unit=speech.unit.level), "number"),
        (say("behind by ({unit})", unit=speech.unit.many), "number"),
        *([(say("total"), "number")] if totals else []),
        (say("signals"), "number"),
        *([(say("cost"), "number")] if costs else []),
        (say("standing"), "words"),
    ]


def _title(speech: Speech) -> str:
    if not any(entry["score_interval"] for entry in speech.document["elements"]):
        return say("Ranking: distances behind the best; no intervals can be given yet")
    level = numerals.per_cent(speech.trial["confidence"])
    return say("Ranking: distances behind the best, with intervals at {level}", level=level)


def _row(speech: Speech, entry: doc.Entry, *, totals: bool, costs: bool) -> list[str]:
    return [
        speech.label(entry["id"]),
        str(entry["place"]) if entry["place"] is not None else "",
        score(speech, entry["score"]),
        behind(speech, entry),
        *([_total(speech, entry)] if totals else []),
        _signals(speech, entry),
        *([value_pick.cost(entry)] if costs else []),
        in_short(speech, entry),
    ]


def _signals(speech: Speech, entry: doc.Entry) -> str:
    """How many signals were received, of those that were scanned with an element in any round."""
    counts, got = reception.received(speech.document), entry["rf_channels_received"]
    scanned = next((count.scanned for count in counts if count.element == entry["id"]), 0)
    if got is None or not scanned:
        return ""
    return say("{part} of {whole}", part=numerals.count(got), whole=numerals.count(scanned))


def _total(speech: Speech, entry: doc.Entry) -> str:
    if entry["total"] is None:
        return ""
    share, step = entry["percent_of_best"], uncertainty(speech)
    moves = None if step is None else step * len(speech.document["channels"])
    one_round = speech.verdict["rounds_done"] == 1  # the person's own totals, as they wrote them
    total, own = entry["total"], doc.resolution(speech.document)
    number = numerals.seen(total, own) if one_round else numerals.estimate(total, moves)
    return number + (f" ({numerals.fixed(share, 0)} %)" if share is not None else "")


def _total_note(speech: Speech) -> str:
    possible = doc.known([entry["total_possible"] for entry in speech.document["elements"]])
    channels = numerals.count(len(speech.document["channels"]))
    if not possible:
        return say(
            "Total: the mean readings of {channels} channels added up, and its share of the best. It is no "
            "decibel.",
            channels=channels,
        )
    return say(
        "Total: the mean readings of {channels} channels added up ({total} possible), and its share of the "
        "best. It is no decibel.",
        channels=channels,
        total=numerals.count(max(possible)),
    )
