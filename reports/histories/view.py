"""A design's history as finished strings, for every form that carries text."""

from reports import document as doc
from reports import numerals
from reports.dates import day, scanned
from reports.findings.finding import MOST_ROWS, Finding
from reports.findings.stated import amount
from reports.findings.trials import trial_section
from reports.histories.figure import figure
from reports.histories.method import method
from reports.histories.trend import trend
from reports.language import say, say_number
from reports.severities import SEVERITIES, gravest_first
from reports.view.closing import safety
from reports.view.model import Draw, Listing, Note, Section, Table
from reports.view.tables import table
from reports.wording.check_cautions import title
from reports.wording.design_history import OUTCOMES
from reports.wording.history_speech import per_year
from reports.wording.speech import listed
from reports.wording.vocabulary import UNITS

MOST_DATES = 12
SAFETY_CODE = "safety"  # speaks of all trials


def history_view(document: doc.Document, draw: Draw) -> Finding:
    """The report of a completed design-history document."""
    trials = document["trials"]
    first = min(trial["provenance"]["first_at"] for trial in trials)
    last = max(trial["provenance"]["last_at"] for trial in trials)
    names = doc.clean(document["element_label"]), doc.clean(document["reference_label"])
    return Finding(
        kind=say("design history"),
        named=say("History"),
        code=doc.clean(document["history_id"]),
        title=say("Design history: {element} against {reference}", element=names[0], reference=names[1]),
        scanned=scanned({"first_at": first, "last_at": last}),
        issued=day(last),
        issued_at=(last,),
        outcome=say(OUTCOMES[document["outcome"]]),
        statement=document["statement"],
        rule=rule(document),
        findings=(
            document["first_to_last"]["statement"],
            say("The pace of the line: {pace}.", pace=per_year(document)),
        ),
        figures=(figure(document, draw),),
        tables=(_points(document),),
        sections=_sections(document),
    )


def rule(document: doc.Document) -> str:
    """The decision rule in plain words, with its error rates."""
    alpha = 1.0 - document["confidence"]
    return say(
        "The rule: creeps is said where the {level} interval of the change over these dates leaves out zero "
        "and reaches beyond {margin}; where nothing creeps, at most {rate} of 100 such histories say so. No "
        "creep beyond the margin is said where the whole interval lies within {margin} up or down; where the "
        "change is that large, at most {half} of 100 say so.",
        level=_level(document),
        margin=amount(document, document["margin"]),
        rate=numerals.in_a_hundred(alpha),
        half=numerals.in_a_hundred(alpha / 2),
    )


def _level(document: doc.Document) -> str:
    return numerals.per_cent(document["confidence"])


def _points(document: doc.Document) -> Table:
    headings = (
        (say("date"), "name"),
        (say("trial"), "words"),
        (say("difference"), "number"),
        (say("{level} interval", level=_level(document)), "number"),
        (say("rounds"), "number"),
    )
    caption = say(
        "{element} less {reference} by date, in {unit}",
        element=doc.clean(document["element_label"]),
        reference=doc.clean(document["reference_label"]),
        unit=UNITS[document["unit"]].many,
    )
    rows = [_point(document, one) for one in document["points"]]
    return table(caption, headings, rows, most=MOST_ROWS, kind="stacked")


def _point(document: doc.Document, one: doc.Entry) -> list[str]:
    low, high = one["interval"]["low"], one["interval"]["high"]
    return [
        day(one["date"]),
        doc.clean(document["trials"][one["trial"]]["title"] or ""),
        numerals.signed(one["difference"], numerals.half_width(low, high)),
        numerals.between(low, high),
        numerals.count(one["rounds"]),
    ]


def _sections(document: doc.Document) -> tuple[Section, ...]:
    not_seen = Listing(tuple(document["not_seen"]))
    return (
        Section("not-seen", say("What this history does not see"), lists=(not_seen,)),
        Section("cautions", say("What could be wrong"), notes=_notes(document)),
        trend(document),
        *(_trial(document, trial, place) for place, trial in enumerate(document["trials"])),
        method(document),
        safety(),
    )


def _trial(document: doc.Document, trial: doc.Entry, place: int) -> Section:
    words = {"number": place + 1, "date": day(document["points"][place]["date"])}
    return trial_section(
        trial,
        place + 1,
        title=say("Trial {number}, of {date}", **words),
        elements=say("What was run in trial {number}, of {date}", **words),
    )


def _notes(document: doc.Document) -> tuple[Note, ...]:
    """The cautions, the gravest first; what several trials say alike is said once, with their dates."""
    trials: dict[tuple[str, str, str], list[str]] = {}
    for entry in gravest_first(document["cautions"]):
        said = trials.setdefault((entry["severity"], entry["code"], entry["message"]), [])
        if entry["trial"] is not None and entry["code"] != SAFETY_CODE:
            said.append(day(document["points"][entry["trial"]]["date"]))
    return tuple(
        Note(say(SEVERITIES[severity]), _heading(title(code), dates), message)
        for (severity, code, message), dates in trials.items()
    )


def _heading(caution: str, dates: list[str]) -> str:
    """The title of a caution, with the trials that it speaks of."""
    if not dates:
        return caution
    return say_number(
        "{caution} (trial of {dates})",
        "{caution} (trials of {dates})",
        len(dates),
        caution=caution,
        dates=listed(dates, most=MOST_DATES),
    )
