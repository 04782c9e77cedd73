"""Could the metal explain this? What conductor loss alone can make, beside what the readings show."""

from reports import document as doc
from reports import numerals
from reports.charts.pictures import Metal, Metals
from reports.language import say
from reports.view.model import Bounds, Draw, Figure, Section, Table
from reports.view.tables import table
from reports.wording import metal, metal_words
from reports.wording.speech import Speech

MOST_ROWS = 12


def sections(speech: Speech, draw: Draw, bounds: Bounds) -> tuple[Section, ...]:
    """The section, or none where the document does not tell."""
    if speech.document["conductor_loss"] is None:
        return ()
    return (
        Section(
            anchor="metal",
            title=say("Could the metal explain this?"),
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
        say("what the metals can make at most; the dot is what the readings show")
        if shown
        else say("what the metals can make at most")
    )
    leader = speech.label(found["leader"])
    picture = Metals(rows, legend, say("{leader} above the other (dB)", leader=leader))
    named = {"number": len(rows), "things": speech.things.many, "leader": leader}
    caption = say("Against {leader}: what the metals can make.", leader=leader)
    return (Figure(draw(picture), _alt(named, shown=shown), caption, "metals"),)


def _alt(named: dict[str, object], *, shown: bool) -> str:
    if shown:
        return say(
            "For each of {number} {things} against {leader}: the most that their metals can make, and the "
            "difference that the readings show; the sentences above hold the numbers.",
            **named,
        )
    return say(
        "For each of {number} {things} against {leader}: the most that their metals can make; the sentences "
        "above hold the numbers.",
        **named,
    )


def _row(speech: Speech, pair: doc.Entry, *, shown: bool) -> Metal:
    ends = (pair["difference"], pair["low"], pair["high"]) if shown else (None, None, None)
    value, low, high = ends
    name, says = speech.label(pair["element"]), say("metal: at most {loss}", loss=metal.most(pair))
    return Metal(name, pair["metal_bound_db"], value, low, high, says)


def _signals(speech: Speech, bounds: Bounds) -> Table:
    headings = [
        (speech.things.one, "name"),
        (say("RF channel"), "words"),
        ("MHz", "number"),
        (say("metal makes (dB)"), "number"),
        (say("at most (dB)"), "number"),
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
    note = say(
        "Above 0 where the leader's metal loses less, with the shapes held equal; two numbers where only the "
        "ends are known."
    )
    caption = say("What the metals can make, signal by signal")
    return table(caption, headings, rows, most=bounds.rows, notes=(note,))


def _materials(speech: Speech, bounds: Bounds) -> Table:
    headings = [
        (say("metal"), "name"),
        (say("resistivity (nΩ·m)"), "number"),
        (say("source"), "words"),
        (say("status"), "words"),
    ]
    metals = speech.document["conductor_loss"]["materials"]
    said = [metal_words.said(entry) for entry in metals]
    rows = [
        [one.name, numerals.plain(entry["resistivity_ohm_m"] * 1e9), one.source, one.status]
        for one, entry in zip(said, metals, strict=True)
    ]
    notes = [f"{one.name}: {one.note}" for one in said if one.note]
    return table(say("What the metals were taken for"), headings, rows, most=bounds.rows, notes=notes)


def _range(ends: doc.Entry) -> str:
    low, high = (numerals.fixed(ends[name], 3) for name in ("low", "high"))
    return low if low == high else say("{low} to {high}", low=low, high=high)
