"""A design check as finished strings, for every form that carries text."""

from collections.abc import Mapping
from typing import Final

from reports import document as doc
from reports import numerals
from reports.checks.method import method
from reports.checks.roles import Role, roles
from reports.dates import day, scanned
from reports.findings.finding import MOST_ROWS, Finding
from reports.findings.stated import amount
from reports.findings.trials import trial_section
from reports.language import marked, say, say_number
from reports.severities import SEVERITIES, gravest_first
from reports.view.closing import safety
from reports.view.model import Listing, Note, Section, Table
from reports.view.tables import table
from reports.wording.check_cautions import TITLES as CHECK_TITLES
from reports.wording.check_cautions import title
from reports.wording.check_outcomes import OUTCOMES
from reports.wording.check_speech import labels_of
from reports.wording.vocabulary import UNITS

OF_BOTH_TRIALS = frozenset({*CHECK_TITLES, "safety"})
_LOOKS: Final[Mapping[str, str]] = {
    "every round": marked("asked after every round"),
    "planned end": marked("asked at the planned end"),
    "once": marked("asked once"),
}


def check_view(document: doc.Document) -> Finding:
    """The report of a completed design-check document."""
    trials = document["trials"]
    last = max((trial["provenance"]["last_at"] or "" for trial in trials), default="")
    checks = document["checks"]
    several = [str(check["statement"]) for check in checks] if len(checks) > 1 else []
    return Finding(
        kind=say("design check"),
        named=say("Check"),
        code=doc.clean(document["check_id"]),
        title=_title(document),
        scanned="; ".join(scanned(trial["provenance"]) for trial in trials),
        issued=day(last) or say("no date: the readings carry no times"),
        issued_at=(last,) if last else (),
        outcome=say(OUTCOMES[document["outcome"]]),
        statement=document["statement"],
        rule=rule(document),
        findings=(*several, *(str(check["reception_statement"]) for check in checks)),
        figures=(),
        tables=(_table(document),),
        sections=_sections(document),
    )


def rule(document: doc.Document) -> str:
    """The decision rule in one sentence, with its error rate."""
    return say(
        "The rule: a candidate holds only if the lower limit of its true difference from the baseline lies "
        "above {limit}; {looks}, one that is worse by the margin or more passes in at most {rate} of 100 "
        "such checks, all candidates taken together.",
        limit=amount(document, -document["margin"]),
        looks=say(_LOOKS[document["method"]["looks"]]),
        rate=numerals.in_a_hundred(document["method"]["alpha"]),
    )


def _title(document: doc.Document) -> str:
    candidate, baseline = labels_of(document["checks"][0])
    number = len(document["checks"])
    if number == 1:
        return say("Design check: {candidate} against {baseline}", candidate=candidate, baseline=baseline)
    return say_number(
        "Design check: {number} candidate against {baseline}",
        "Design check: {number} candidates against {baseline}",
        number,
        number=numerals.count(number),
        baseline=baseline,
    )


def _table(document: doc.Document) -> Table:
    level = numerals.per_cent(document["checks"][0]["limits"]["level"])
    headings = [
        (say("candidate"), "name"),
        (say("outcome"), "words"),
        (say("difference"), "number"),
        (say("limits, each {level} sure", level=level), "number"),
        ("p", "number"),
        (say("rounds"), "number"),
        (say("decided at round"), "number"),
        (say("more rounds"), "number"),
        (say("reception"), "words"),
    ]
    caption = say(
        "Candidate less baseline, in {unit}; margin {margin}",
        unit=UNITS[document["unit"]].many,
        margin=amount(document, document["margin"]),
    )
    rows = [_row(check) for check in document["checks"]]
    return table(caption, headings, rows, most=MOST_ROWS, kind="stacked")


def _row(check: doc.Entry) -> list[str]:
    limits, decided = check["limits"], check["decided_at_round"]
    return [
        labels_of(check)[0],
        say(OUTCOMES[check["outcome"]]),
        numerals.signed(check["difference"], numerals.half_width(limits["low"], limits["high"])),
        numerals.between(limits["low"], limits["high"]),
        numerals.probability(check["p_value"]),
        numerals.count(check["rounds"]),
        "" if decided is None else numerals.plain(decided),
        _more_rounds(check["more_rounds"], check["more_rounds_safe"]),
        say(OUTCOMES[check["reception"]["outcome"]]),
    ]


def _more_rounds(more: int | None, safe: int | None) -> str:
    if more is None:
        return ""
    if safe is None or safe <= more:
        return numerals.count(more)
    return say("{low} to {high}", low=numerals.count(more), high=numerals.count(safe))


def _sections(document: doc.Document) -> tuple[Section, ...]:
    not_seen = tuple(str(sentence) for sentence in document["not_seen"])
    parts = roles(document)
    notes = tuple(_note(entry, parts) for entry in gravest_first(document["cautions"]))
    trials = enumerate(zip(document["trials"], parts, strict=True), start=1)
    return (
        Section("not-seen", say("What this check does not see"), lists=(Listing(not_seen),)),
        Section("cautions", say("What could be wrong"), notes=notes),
        *(
            trial_section(trial, place, title=say(part.title), elements=say(part.elements))
            for place, (trial, part) in trials
        ),
        method(document),
        safety(),
    )


def _note(entry: doc.Entry, parts: list[Role]) -> Note:
    """A caution; where there are two trials its title tells of which it is, if it is not of both."""
    heading = title(entry["code"])
    if entry["trial"] is not None and entry["code"] not in OF_BOTH_TRIALS:
        heading = say(parts[entry["trial"]].caution, caution=heading)
    return Note(say(SEVERITIES[entry["severity"]]), heading, entry["message"])
