"""The ranking: a picture with intervals and margin, and the same as a table."""

from reports import document as doc
from reports import numerals
from reports.charts.pictures import Bar, Ranking
from reports.view.model import Bounds, Draw, Figure, Table
from reports.view.tables import table
from reports.wording import reception, value_pick
from reports.wording.speech import Speech


def figure(speech: Speech, draw: Draw, bounds: Bounds) -> tuple[Figure, ...]:
    """The picture, or nothing where there are no two scores to compare."""
    entries = _listed(speech, bounds.picture_rows)
    bars = tuple(_bar(speech, entry) for entry in entries)
    if sum(bar.value is not None for bar in bars) < 2:
        return ()
    unit = speech.unit.level
    picture = Ranking(
        bars,
        band(speech),
        f"as good as the best: within {speech.margin()} of it",
        f"average reading ({unit})",
    )
    seen = [f"{bar.name}: {_said(speech, entry)}" for bar, entry in zip(bars, entries, strict=True)]
    alt = f"Ranking by average reading in {unit}, with intervals. {'; '.join(seen)}."
    return (Figure(draw(picture), alt, _caption(speech), "ranking"),)


def ranking_table(speech: Speech, bounds: Bounds) -> Table:
    """Place, difference, interval, total, signals, cost and standing of every element."""
    entries = _listed(speech, bounds.rows)
    totals = any(entry["total"] is not None for entry in entries)
    costs = any(entry["cost"] for entry in entries)
    headings = [
        (speech.things.one, "name"),
        ("place", "number"),
        (f"average ({speech.unit.level})", "number"),
        (f"behind by ({speech.unit.many})", "number"),
        *([("total", "number")] if totals else []),
        ("signals", "number"),
        *([("cost", "number")] if costs else []),
        ("standing", "words"),
    ]
    best = doc.leader(speech.document)
    rows = [_row(speech, entry, totals=totals, costs=costs) for entry in entries]
    marked = frozenset(
        place for place, entry in enumerate(entries) if best is not None and entry["id"] == best["id"]
    )
    every = len(speech.document["elements"])
    left = f"{every - len(entries)} more stand under “The trial”." if every > len(entries) else ""
    return table(
        _title(speech),
        headings,
        rows,
        most=len(rows),
        kind="stacked",
        marked=marked,
        notes=[note for note in (_total_note(speech) if totals else "", left) if note],
    )


def score(speech: Speech, value: float | None) -> str:
    """A score, rounded as the differences between the elements are."""
    return numerals.estimate(value, uncertainty(speech))


def uncertainty(speech: Speech) -> float | None:
    """What scores are rounded by: the widest reach of an interval, else the noise, else the meter's step."""
    widths = [
        numerals.half_width(entry["score_interval"]["low"], entry["score_interval"]["high"])
        for entry in speech.document["elements"]
        if entry["score_interval"]
    ]
    known = doc.known(widths)
    noise = speech.document["repeatability"]
    return min(known) if known else noise["sd"] if noise and noise["sd"] else doc.resolution(speech.document)


def standing(speech: Speech, entry: doc.Entry) -> str:
    """Where an element stands, in words; twins and pads are said to be what they are."""
    given = next(item for item in speech.trial["elements"] if item["id"] == entry["id"])
    if entry["role"] == "twin":
        return f"spare copy of {speech.label(given['twin_of'])}"
    if entry["role"] == "pad":
        return f"{speech.label(given['pad_of'])}, weakened on purpose"
    if len(doc.competing(speech.document)) == 1:
        return "nothing to compare with"
    if entry["standing"] and not any(pair["interval"] for pair in speech.document["pairs"]):
        first = "level, by chance or not" if doc.level_at_top(speech.document) else "ahead, by chance or not"
        return first if entry["rank"] == 1 else "not told apart yet"
    winner, best = speech.verdict["winner"], doc.leader(speech.document)
    if winner is not None and best is not None and winner != best["id"]:
        now = {
            winner: f"best, settled in round {speech.verdict['decided_at_round']}",
            best["id"]: "highest now",
        }
        return now.get(entry["id"]) or entry["standing"] or "not judged"
    return entry["standing"] or "not judged"


def in_short(speech: Speech, entry: doc.Entry) -> str:
    """The same in few words: of which element a control is, the table of elements says."""
    controls = {"twin": "spare copy", "pad": "weakened on purpose"}
    return controls.get(entry["role"]) or standing(speech, entry)


def behind(speech: Speech, entry: doc.Entry) -> str:
    """How far an element is behind the leader: "0.54 (0.22 to 0.87)"; "" for the leader itself."""
    best = doc.leader(speech.document)
    unjudged = entry["role"] == "competes" and entry["rank"] is None
    if best is None or entry["id"] == best["id"] or entry["score"] is None or unjudged:
        return ""
    ends = entry["score_interval"]
    gap = best["score"] - entry["score"]
    if not ends:
        return numerals.estimate(gap, uncertainty(speech))
    low, high = best["score"] - ends["high"], best["score"] - ends["low"]
    return f"{numerals.estimate(gap, numerals.half_width(low, high))} ({numerals.between(low, high)})"


def _title(speech: Speech) -> str:
    if not any(entry["score_interval"] for entry in speech.document["elements"]):
        return "Ranking: distances behind the best; no intervals can be given yet"
    level = numerals.per_cent(speech.trial["confidence"])
    return f"Ranking: distances behind the best, with intervals at {level}"


def _listed(speech: Speech, most: int) -> list[doc.Entry]:
    return [*doc.ranked(speech.document), *doc.controls(speech.document)][:most]


def _bar(speech: Speech, entry: doc.Entry) -> Bar:
    ends = entry["score_interval"] or {"low": None, "high": None}
    mark = "control" if entry["role"] != "competes" else "lead" if entry["rank"] == 1 else "plain"
    return Bar(
        name=speech.label(entry["id"]),
        minus="",
        value=entry["score"],
        low=ends["low"],
        high=ends["high"],
        says=in_short(speech, entry),
        mark=mark,
    )


def band(speech: Speech) -> tuple[float, float] | None:
    """The margin around the leader's score, or None where nobody leads."""
    best = doc.leader(speech.document)
    if best is None or best["score"] is None:
        return None
    return best["score"] - speech.trial["margin"], best["score"] + speech.trial["margin"]


def _said(speech: Speech, entry: doc.Entry) -> str:
    value = f"{score(speech, entry['score'])}, " if entry["score"] is not None else ""
    ends = entry["score_interval"]
    reach = f"between {numerals.between(ends['low'], ends['high'])}, " if ends else ""
    return f"{value}{reach}{standing(speech, entry)}"


def _caption(speech: Speech) -> str:
    level = numerals.per_cent(speech.trial["confidence"])
    if not any(entry["score_interval"] for entry in speech.document["elements"]):
        return "Average reading of each; no intervals can be given yet, so distances may be chance."
    return (
        f"Diamond: the leader. Lines: where each truly lies, seen from the leader ({level}); inside the "
        "hatched band "
        "the difference is too small to act on."
    )


def _row(speech: Speech, entry: doc.Entry, *, totals: bool, costs: bool) -> list[str]:
    signals = _scanned(speech, entry)
    got = entry["rf_channels_received"]
    return [
        speech.label(entry["id"]),
        str(entry["place"]) if entry["place"] is not None else "",
        score(speech, entry["score"]),
        behind(speech, entry),
        *([_total(speech, entry)] if totals else []),
        f"{numerals.count(got)} of {numerals.count(signals)}" if got is not None and signals else "",
        *([value_pick.cost(entry)] if costs else []),
        in_short(speech, entry),
    ]


def _scanned(speech: Speech, entry: doc.Entry) -> int:
    """How many signals were scanned with an element in any round."""
    counts = reception.received(speech.document)
    return next((count.scanned for count in counts if count.element == entry["id"]), 0)


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
    of = f" ({numerals.count(max(possible))} possible)" if possible else ""
    return (
        f"Total: the mean readings of {numerals.count(len(speech.document['channels']))} channels added "
        f"up{of}, and "
        "its share of the best. It is no decibel."
    )
