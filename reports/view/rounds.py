"""Round by round: the scores, and how far one run differs from the next."""

from reports import document as doc
from reports import numerals
from reports.charts.pictures import Line, Rounds
from reports.view import ranking
from reports.view.model import Bounds, Draw, Fact, FactList, Figure, Section, Table
from reports.view.tables import table
from reports.wording import drift
from reports.wording.speech import Speech

MOST_LINES = 8


def section(speech: Speech, draw: Draw, bounds: Bounds) -> Section:
    """Scores by round and the repeatability."""
    return Section(
        anchor="rounds",
        title="Round by round",
        paragraphs=(
            f"One round is one go through all {speech.things.many}; each is {speech.things.done} afresh.",
        ),
        figures=_figure(speech, draw),
        facts=(FactList(tuple(_repeatability(speech))),),
        tables=_tables(speech, bounds),
    )


def _scores(entry: doc.Entry) -> dict[int, float]:
    return {item["round"]: item["score"] for item in entry["round_scores"] if item["score"] is not None}


def _numbers(speech: Speech) -> list[int]:
    return sorted({number for entry in speech.document["elements"] for number in _scores(entry)})


def _figure(speech: Speech, draw: Draw) -> tuple[Figure, ...]:
    numbers = _numbers(speech)
    if len(numbers) < 2:
        return ()
    entries = [*doc.ranked(speech.document), *doc.controls(speech.document)]
    shown = [entry for entry in entries if _scores(entry)][:MOST_LINES]
    lines = tuple(
        Line(speech.label(entry["id"]), tuple(_scores(entry).get(n) for n in numbers)) for entry in shown
    )
    axis = f"average reading ({speech.unit.level})"
    of = f" The first {len(shown)} of {len(entries)} are drawn." if len(shown) < len(entries) else ""
    alt = (
        f"Average reading of {len(shown)} {speech.things.many} in {len(numbers)} rounds; the table below "
        "holds the numbers."
    )
    caption = (
        f"Lines that move together show the site or the day; lines that cross show noise.{of} "
        f"{drift.sentence(speech)}"
    )
    return (Figure(draw(Rounds(tuple(numbers), lines, axis)), alt, caption, "rounds"),)


def _tables(speech: Speech, bounds: Bounds) -> tuple[Table, ...]:
    numbers = _numbers(speech)
    if not numbers:
        return ()
    shown = numbers[-bounds.columns :]
    entries = [*doc.ranked(speech.document), *doc.controls(speech.document)]
    rows = [
        [speech.label(entry["id"]), *(ranking.score(speech, _scores(entry).get(number)) for number in shown)]
        for entry in entries
    ]
    cut = (
        f"The last {len(shown)} of {len(numbers)} rounds are printed; the rest stands in the analysis "
        "document (JSON)."
    )
    return (
        table(
            f"Average reading ({speech.unit.level}) in each round",
            [(speech.things.one, "name"), *((f"round {number}", "number") for number in shown)],
            rows,
            most=bounds.rows,
            notes=(cut,) if len(shown) < len(numbers) else (),
        ),
    )


def _repeatability(speech: Speech) -> list[Fact]:
    found = speech.document["repeatability"]
    if not found or found["sd"] is None:
        return [Fact("Repeatability", "cannot be given: it needs two rounds at least")]
    source = {
        "this trial": "from this trial",
        "known": "known beforehand",
        "both": "from this trial and known beforehand",
    }
    facts = [
        Fact(
            "Repeatability standard deviation",
            f"{speech.measured(numerals.two_digits(found['sd']))}, {source[found['from']]}",
        ),
        Fact(
            "Repeatability limit (2.8 times)",
            f"{speech.measured(numerals.two_digits(found['limit']))}: one {speech.things.one}, "
            f"{speech.things.done} twice the same day, differs by more about once in twenty",
        ),
        Fact("Degrees of freedom", numerals.plain(found["degrees_of_freedom"])),
    ]
    agree = found["icc"]
    return (
        facts
        if agree is None
        else [*facts, Fact("Intraclass correlation, ICC(3,1)", numerals.fixed(agree, 2))]
    )
