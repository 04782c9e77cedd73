"""Reception: which signals came in at all, apart from how strong they were."""

from reports import numerals
from reports.language import say, say_as
from reports.view import gains
from reports.view.model import Bounds, Draw, Section, Table
from reports.view.tables import table
from reports.wording import reception
from reports.wording.speech import Speech, listed


def section(speech: Speech, draw: Draw, bounds: Bounds) -> Section:
    """Signals received by each, the pairs that differ, and whether that is more than chance."""
    return Section(
        anchor="reception",
        title=say("Reception"),
        paragraphs=(speech.verdict["reception_statement"],),
        figures=gains.figure(speech, draw),
        tables=(_counts(speech, bounds), *_pairs(speech, bounds)),
        remarks=tuple(_cochran(speech)),
    )


def _counts(speech: Speech, bounds: Bounds) -> Table:
    headings = [
        (speech.things.one, "name"),
        (say("in every round scanned"), "number"),
        (say_as("rounds", "in some"), "number"),
        (say("never"), "number"),
        (say("signals scanned"), "number"),
    ]
    rows = [
        [
            speech.label(entry.element),
            *(numerals.count(number) for number in (entry.always, entry.sometimes, entry.never)),
            say("{part} of {whole}", part=numerals.count(entry.scanned), whole=numerals.count(entry.of)),
        ]
        for entry in reception.received(speech.document)
    ]
    return table(say("Signals received"), headings, rows, most=bounds.rows, kind="stacked")


def _pairs(speech: Speech, bounds: Bounds) -> tuple[Table, ...]:
    differing = [
        pair for pair in speech.document["reception"]["pairs"] if pair["only_first"] or pair["only_second"]
    ]
    if not differing:
        return ()
    headings = [
        (say("first"), "name"),
        (say("second"), "words"),
        (say("oftener by the first"), "words"),
        (say("oftener by the second"), "words"),
        ("p", "number"),
    ]
    rows = [
        [
            speech.label(pair["first"]),
            speech.label(pair["second"]),
            listed(pair["only_first"]) or say_as("signals", "none"),
            listed(pair["only_second"]) or say_as("signals", "none"),
            numerals.probability(pair["p_value"]),
        ]
        for pair in differing
    ]
    note = say(
        "Signals (RF channels) that one receives in more rounds than the other. p: sign flips of the "
        "counts over rounds, adjusted for nothing."
    )
    caption = say("Pairs that differ in reception")
    return (table(caption, headings, rows, most=bounds.rows, notes=(note,)),)


def _cochran(speech: Speech) -> list[str]:
    found = speech.document["reception"]["cochran_q"]
    if not found or found["statistic"] is None:
        return []
    return [
        say(
            "Do they differ in reception at all? Cochran's Q {statistic}, p {p}, by moving whole runs among "
            "the {things} of a round.",
            statistic=numerals.fixed(found["statistic"], 2),
            p=numerals.probability(found["p_value"]),
            things=speech.things.many,
        )
    ]
