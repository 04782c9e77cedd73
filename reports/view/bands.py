"""Band by band, and how far each level lies above the one that reception needs."""

from reports import document as doc
from reports import numerals
from reports.language import say, say_as
from reports.view.model import Bounds, Section, Table
from reports.view.tables import table
from reports.wording.speech import Speech

FEWEST_BANDS = 2


def sections(speech: Speech, bounds: Bounds) -> tuple[Section, ...]:
    """Both parts, as far as the document holds them."""
    return (*_bands(speech, bounds), *_headroom(speech, bounds))


def _bands(speech: Speech, bounds: Bounds) -> tuple[Section, ...]:
    bands = speech.document["bands"]
    if bands is None or len(bands) < FEWEST_BANDS or not speech.document["pairs"]:
        return ()
    level = numerals.per_cent(speech.trial["confidence"])
    headings = [
        (say("first"), "name"),
        (say("second"), "words"),
        *((_heading(band), "number") for band in bands),
    ]
    pairs = zip(*(band["pairs"] for band in bands), strict=True)
    rows = [
        [
            speech.label(row[0]["first"]),
            speech.label(row[0]["second"]),
            *(_difference(pair) for pair in row),
        ]
        for row in pairs
    ]
    note = say(
        "First less second, in {unit}, each with its {level} interval by Student's t over rounds, adjusted "
        "for nothing: of many such intervals some miss by chance. They decide nothing.",
        unit=speech.unit.many,
        level=level,
    )
    found = table(say("Differences within each band"), headings, rows, most=bounds.rows, notes=(note,))
    return (Section(anchor="bands", title=say("Band by band"), tables=(found,)),)


def _heading(band: doc.Entry) -> str:
    signals = numerals.number_of(len(band["rf_channels"]), "signal", "signals")
    return f"{doc.clean(band['band'])} ({signals})"


def _difference(pair: doc.Entry) -> str:
    interval = pair["interval"]
    if interval is None:
        return "" if pair["difference"] is None else numerals.plain(pair["difference"])
    low, high = interval["low"], interval["high"]
    middle = numerals.signed(pair["difference"], numerals.half_width(low, high))
    return f"{middle} ({numerals.between(low, high)})"


def _headroom(speech: Speech, bounds: Bounds) -> tuple[Section, ...]:
    found = speech.document["reception"]["headroom"]
    if not found:
        return ()
    needed = f"{numerals.plain(speech.trial['meter']['needed'])} {speech.unit.level}"
    said = say(
        "Reception needs {level}, by what the trial states. Above that stands so much, in dB; below 0 the "
        "mean level does not suffice.",
        level=needed,
    )
    return (
        Section(
            anchor="headroom",
            title=say("Headroom"),
            paragraphs=(said,),
            tables=(_levels(speech, found, bounds),),
        ),
    )


def _levels(speech: Speech, found: list[doc.Entry], bounds: Bounds) -> Table:
    shown = [entry["element"] for entry in found[0]["elements"]][: bounds.columns]
    rows = []
    for entry in found:
        cells = {cell["element"]: cell["headroom"] for cell in entry["elements"]}
        rows.append([doc.clean(entry["rf_channel"]), *(_signed(cells[name]) for name in shown)])
    every = len(found[0]["elements"])
    cut = say(
        "{shown} of {every} {things} are printed; the rest stands in the JSON.",
        shown=len(shown),
        every=every,
        things=speech.things.many,
    )
    return table(
        say("Headroom (dB) by signal"),
        [(say("RF channel"), "name"), *((speech.label(name), "number") for name in shown)],
        rows,
        most=bounds.rows,
        notes=(cut,) if len(shown) < every else (),
    )


def _signed(headroom: float | None) -> str:
    return say_as("reading", "none") if headroom is None else numerals.signed(headroom, 1.0)
