"""Round by round: the scores, and how far one run differs from the next."""

from reports import document as doc
from reports import numerals
from reports.charts.pictures import Line, Rounds
from reports.language import marked, say
from reports.view import narrowing, ranking
from reports.view.model import Bounds, Draw, Fact, FactList, Figure, Section, Table
from reports.view.tables import ELSEWHERE, table
from reports.wording import drift
from reports.wording.speech import Speech, sentences

MOST_LINES = 8
MARKS = {
    "struck": marked("cross: a run that was taken out; its reading is not drawn"),
    "odd": marked("ring: a run out of line with the others"),
}

_MARKED = {
    "struck": marked("{element} in round {number}: taken out."),
    "odd": marked("{element} in round {number}: out of line."),
}
_FROM = {
    "this trial": marked("{sd}, from this trial"),
    "known": marked("{sd}, known beforehand"),
    "both": marked("{sd}, from this trial and known beforehand"),
}


def section(speech: Speech, draw: Draw, bounds: Bounds) -> Section:
    """Scores by round and the repeatability."""
    return Section(
        anchor="rounds",
        title=say("Round by round"),
        paragraphs=(
            say(
                "One round is one go through all {things}; each is {done} afresh.",
                things=speech.things.many,
                done=speech.things.done,
            ),
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
    entries = doc.in_order(speech.document)
    shown = [entry for entry in entries if _scores(entry)][:MOST_LINES]
    lines = tuple(_line(speech, entry, numbers) for entry in shown)
    keys = [say(says) if any(getattr(line, kind) for line in lines) else "" for kind, says in MARKS.items()]
    axis = say("average reading ({unit})", unit=speech.unit.level)
    picture = Rounds(tuple(numbers), lines, axis, *keys)
    of = say("The first {shown} of {every} are drawn.", shown=len(shown), every=len(entries))
    caption = sentences(
        say("Lines that move together show the site or the day; lines that cross show noise."),
        of if len(shown) < len(entries) else "",
        drift.sentence(speech),
    )
    return (Figure(draw(picture), _alt(speech, lines, len(numbers)), caption, "rounds"),)


def _line(speech: Speech, entry: doc.Entry, numbers: list[int]) -> Line:
    odd = doc.caution_evidence(speech.document, "odd-run") or {"runs": []}
    struck, odd_ones = (
        tuple(run["round"] for run in runs if run["element"] == entry["id"] and run["round"] in numbers)
        for runs in (speech.document["struck"]["runs"], odd["runs"])
    )
    scores = tuple(_scores(entry).get(number) for number in numbers)
    return Line(speech.label(entry["id"]), scores, struck, odd_ones)


def _alt(speech: Speech, lines: tuple[Line, ...], rounds: int) -> str:
    """The picture in words, the marked runs too."""
    shown = say(
        "Average reading of {number} {things} in {rounds} rounds; the table below holds the numbers.",
        number=len(lines),
        things=speech.things.many,
        rounds=rounds,
    )
    told = [
        say(words, element=line.name, number=number)
        for kind, words in _MARKED.items()
        for line in lines
        for number in getattr(line, kind)
    ]
    return sentences(shown, *told)


def _tables(speech: Speech, bounds: Bounds) -> tuple[Table, ...]:
    numbers = _numbers(speech)
    if not numbers:
        return ()
    shown = numbers[-bounds.columns :]
    entries = doc.in_order(speech.document)
    rows = [
        [speech.label(entry["id"]), *(ranking.score(speech, _scores(entry).get(number)) for number in shown)]
        for entry in entries
    ]
    cut = say(
        "The last {shown} of {every} rounds are printed; {elsewhere}.",
        shown=len(shown),
        every=numerals.count(len(numbers)),
        elsewhere=say(ELSEWHERE),
    )
    headings = [(say("round {number}", number=number), "number") for number in shown]
    return (
        table(
            say("Average reading ({unit}) in each round", unit=speech.unit.level),
            [(speech.things.one, "name"), *headings],
            rows,
            most=bounds.rows,
            notes=(cut,) if len(shown) < len(numbers) else (),
        ),
    )


def _repeatability(speech: Speech) -> list[Fact]:
    found = speech.document["repeatability"]
    if not found or found["sd"] is None:
        return [Fact(say("Repeatability"), say("cannot be given: it needs two rounds at least"))]
    sd = say(_FROM[found["from"]], sd=speech.measured(numerals.two_digits(found["sd"])))
    limit = say(
        "{limit}: one {thing}, {done} twice the same day, differs by more about once in twenty",
        limit=speech.measured(numerals.two_digits(found["limit"])),
        thing=speech.things.one,
        done=speech.things.done,
    )
    facts = [
        Fact(say("Repeatability standard deviation"), sd),
        Fact(say("Repeatability limit ({factor} times)", factor=numerals.plain(2.8)), limit),
        Fact(say("Degrees of freedom"), numerals.plain(found["degrees_of_freedom"])),
    ]
    if found["icc"] is None:
        return facts
    return [*facts, Fact(say("Intraclass correlation, ICC(3,1)"), numerals.fixed(found["icc"], 2))]
