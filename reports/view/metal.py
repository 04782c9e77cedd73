"""Could the metal explain this? What conductor loss alone can make, beside what the readings show."""

from reports import document as doc
from reports import numerals
from reports.charts.pictures import Metal, Metals
from reports.view.model import Bounds, Draw, Figure, Section, Table
from reports.view.tables import table
from reports.wording import metal
from reports.wording.speech import Speech

MOST_ROWS = 12


def sections(speech: Speech, draw: Draw, bounds: Bounds) -> tuple[Section, ...]:
    """The section, or none where the document does not tell."""
    if speech.document["conductor_loss"] is None:
        return ()
    return (
        Section(
            anchor="metal",
            title="Could the metal explain this?",
            paragraphs=(*metal.answers(speech), metal.elsewhere()),
            figures=_figure(speech, draw),
            tables=(_signals(speech, bounds), _materials(speech, bounds)),
            remarks=(*metal.validity(speech), *metal.not_known(speech), metal.basis(speech)),
        ),
    )


def _figure(speech: Speech, draw: Draw) -> tuple[Figure, ...]:
    found = speech.document["conductor_loss"]
    pairs = [pair for pair in found["pairs"] if pair["metal_bound_db"] > 0][:MOST_ROWS]
    if not pairs:
        return ()
    shown = bool(found["in_decibels"])
    rows = tuple(_row(speech, pair, shown=shown) for pair in pairs)
    legend = (
        "what the metals can make at most; the dot is what the readings show"
        if shown
        else ("what the metals can make at most")
    )
    leader = speech.label(found["leader"])
    picture = Metals(rows, legend, f"{leader} above the other (dB)")
    alt = (
        f"For each of {len(rows)} {speech.things.many} against {leader}: the most that their metals can "
        f"make{', and the difference that the readings show' if shown else ''}; the sentences above hold the "
        "numbers."
    )
    return (Figure(draw(picture), alt, f"Against {leader}: what the metals can make.", "metals"),)


def _row(speech: Speech, pair: doc.Entry, *, shown: bool) -> Metal:
    ends = (pair["difference"], pair["low"], pair["high"]) if shown else (None, None, None)
    value, low, high = ends
    name = speech.label(pair["element"])
    return Metal(name, pair["metal_bound_db"], value, low, high, f"metal: at most {metal.most(pair)}")


def _signals(speech: Speech, bounds: Bounds) -> Table:
    headings = [
        (speech.things.one, "name"),
        ("RF channel", "words"),
        ("MHz", "number"),
        ("metal makes (dB)", "number"),
        ("at most (dB)", "number"),
    ]
    rows = [
        [
            speech.label(row["element"]),
            doc.clean(row["rf_channel"]),
            numerals.fixed(row["frequency_mhz"], 1),
            _range(row["metal_difference_range_db"]),
            numerals.fixed(row["metal_difference_bound_db"], 3),
        ]
        for row in speech.document["conductor_loss"]["rows"]
    ]
    note = (
        "Above 0 where the leader's metal loses less, with the shapes held equal; two numbers where only the "
        "ends are known."
    )
    return table(
        "What the metals can make, signal by signal", headings, rows, most=bounds.rows, notes=(note,)
    )


def _materials(speech: Speech, bounds: Bounds) -> Table:
    headings = [("metal", "name"), ("resistivity (nΩ·m)", "number"), ("source", "words"), ("status", "words")]
    rows = [
        [
            doc.clean(entry["name"]),
            numerals.plain(entry["resistivity_ohm_m"] * 1e9),
            entry["source"],
            entry["status"],
        ]
        for entry in speech.document["conductor_loss"]["materials"]
    ]
    notes = [
        f"{doc.clean(m['name'])}: {m['note']}"
        for m in speech.document["conductor_loss"]["materials"]
        if m["note"]
    ]
    return table("What the metals were taken for", headings, rows, most=bounds.rows, notes=notes)


def _range(ends: doc.Entry) -> str:
    low, high = (numerals.fixed(ends[name], 3) for name in ("low", "high"))
    return low if low == high else f"{low} to {high}"
