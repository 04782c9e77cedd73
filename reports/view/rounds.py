"""Round by round: the scores, and how far one run differs from the next."""

from reports import document as doc
from reports import numerals
from reports.charts.pictures import Line, Rounds
from reports.view import narrowing, ranking
from reports.view.model import Bounds, Draw, Fact, FactList, Figure, Section, Table
from reports.view.tables import ELSEWHERE, table
from reports.wording import drift
from reports.wording.speech import Speech

MOST_LINES = 8
MARKS = {
    "struck": "cross: a run that was taken out; its reading is not drawn",
    "odd": "ring: a run out of line with the others",
}


def section(speech: Speech, draw: Draw, bounds: Bounds) -> Section:
    """Scores by round and the repeatability."""
    return Section(
        anchor="rounds",
        title="Round by round",
        paragraphs=(
            f"One round is one go through all {speech.things.many}; each is {speech.things.done} afresh.",
        ),
        figures=(*_figure(speech, draw), *narrowing.figure(speech, draw)),
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
    lines = tuple(_line(speech, entry, numbers) for entry in shown)
    marked = [says if any(getattr(line, kind) for line in lines) else "" for kind, says in MARKS.items()]
    picture = Rounds(tuple(numbers), lines, f"average reading ({speech.unit.level})", *marked)
    of = f" The first {len(shown)} of {len(entries)} are drawn." if len(shown) < len(entries) else ""
    alt = (
        f"Average reading of {len(shown)} {speech.things.many} in {len(numbers)} rounds; the table below "
        f"holds the numbers.{_marked(lines)}"
    )
    caption = (
        f"Lines that move together show the site or the day; lines that cross show noise.{of} "
        f"{drift.sentence(speech)}"
    )
    return (Figure(draw(picture), alt, caption, "rounds"),)


def _line(speech: Speech, entry: doc.Entry, numbers: list[int]) -> Line:
    odd = doc.caution_evidence(speech.document, "odd-run") or {"runs": []}
    struck, odd_ones = (
        tuple(run["round"] for run in runs if run["element"] == entry["id"] and run["round"] in numbers)
        for runs in (speech.document["struck"]["runs"], odd["runs"])
    )
    scores = tuple(_scores(entry).get(number) for number in numbers)
    return Line(speech.label(entry["id"]), scores, struck, odd_ones)


def _marked(lines: tuple[Line, ...]) -> str:
    """The marked runs in words, for those who do not see the picture."""
    told = [
        f" {line.name} in round {number}: {word}."
        for kind, word in (("struck", "taken out"), ("odd", "out of line"))
        for line in lines
        for number in getattr(line, kind)
    ]
    return "".join(told)


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
    cut = f"The last {len(shown)} of {numerals.count(len(numbers))} rounds are printed; {ELSEWHERE}."
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
            f"Repeatability limit ({numerals.plain(2.8)} times)",
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
