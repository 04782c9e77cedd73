"""A design check as finished strings, for every form that carries text."""

from reports import document as doc
from reports import numerals
from reports.checks.trials import trial_section
from reports.dates import day, scanned
from reports.finding import Finding
from reports.severities import SEVERITIES, gravest_first
from reports.view.model import Fact, FactList, Listing, Note, Section, Table
from reports.view.tables import table
from reports.wording.check_cautions import TITLES as CHECK_TITLES
from reports.wording.check_cautions import title
from reports.wording.design_check import labels_of
from reports.wording.safety import SAFETY
from reports.wording.vocabulary import UNITS

MOST_ROWS = 64
OF_BOTH_TRIALS = frozenset({*CHECK_TITLES, "safety"})


def check_view(document: doc.Document) -> Finding:
    """The report of a completed design-check document."""
    trials = document["trials"]
    last = max((trial["provenance"]["last_at"] or "" for trial in trials), default="")
    checks = document["checks"]
    several = [str(check["statement"]) for check in checks] if len(checks) > 1 else []
    return Finding(
        kind="design check",
        named="Check",
        code=doc.clean(document["check_id"]),
        title=_title(document),
        scanned="; ".join(scanned(trial["provenance"]) for trial in trials),
        issued=day(last) or "no date: the readings carry no times",
        issued_at=(last,) if last else (),
        outcome=document["outcome"],
        statement=document["statement"],
        rule=rule(document),
        findings=(*several, *(str(check["reception_statement"]) for check in checks)),
        figures=(),
        tables=(_table(document),),
        sections=_sections(document),
    )


def rule(document: doc.Document) -> str:
    """The decision rule in one sentence, with its error rate."""
    rate = numerals.in_a_hundred(document["method"]["alpha"])
    looks = {
        "every round": "asked after every round",
        "planned end": "asked at the planned end",
        "once": "asked once",
    }
    return (
        f"The rule: a candidate holds only if the lower limit of its true difference from the baseline lies "
        f"above {_amount(document, -document['margin'])}; {looks[document['method']['looks']]}, one that is "
        f"worse by the margin or more passes in at most {rate} of 100 such checks, all candidates taken "
        "together."
    )


def _title(document: doc.Document) -> str:
    check = document["checks"][0]
    candidate, baseline = labels_of(check)
    if len(document["checks"]) > 1:
        return f"Design check: {numerals.count(len(document['checks']))} candidates against {baseline}"
    return f"Design check: {candidate} against {baseline}"


def _amount(document: doc.Document, value: float) -> str:
    text = numerals.plain(value)
    unit = UNITS[document["unit"]]
    return f"{text} {unit.one if text in {'1', numerals.MINUS + '1'} else unit.many}"


def _table(document: doc.Document) -> Table:
    level = numerals.per_cent(document["checks"][0]["limits"]["level"])
    headings = [
        ("candidate", "name"),
        ("outcome", "words"),
        ("difference", "number"),
        (f"limits, each {level} sure", "number"),
        ("p", "number"),
        ("rounds", "number"),
        ("decided at round", "number"),
        ("more rounds", "number"),
        ("reception", "words"),
    ]
    unit = UNITS[document["unit"]].many
    caption = f"Candidate less baseline, in {unit}; margin {_amount(document, document['margin'])}"
    return table(
        caption, headings, [_row(check) for check in document["checks"]], most=MOST_ROWS, kind="stacked"
    )


def _row(check: doc.Entry) -> list[str]:
    limits = check["limits"]
    more, safe = check["more_rounds"], check["more_rounds_safe"]
    perhaps = f" to {numerals.count(safe)}" if safe is not None and more is not None and safe > more else ""
    decided = check["decided_at_round"]
    return [
        labels_of(check)[0],
        check["outcome"],
        numerals.signed(check["difference"], numerals.half_width(limits["low"], limits["high"])),
        numerals.between(limits["low"], limits["high"]),
        numerals.probability(check["p_value"]),
        numerals.count(check["rounds"]),
        "" if decided is None else numerals.plain(decided),
        "" if more is None else f"{numerals.count(more)}{perhaps}",
        check["reception"]["outcome"],
    ]


def _sections(document: doc.Document) -> tuple[Section, ...]:
    not_seen = tuple(str(sentence) for sentence in document["not_seen"])
    roles = _roles(document)
    notes = tuple(_note(entry, roles) for entry in gravest_first(document["cautions"]))
    return (
        Section("not-seen", "What this check does not see", lists=(Listing(not_seen),)),
        Section("cautions", "What could be wrong", notes=notes),
        *(
            trial_section(trial, role, place)
            for place, (trial, role) in enumerate(zip(document["trials"], roles, strict=True), start=1)
        ),
        _method(document),
        Section("safety", "Safety", lists=(Listing(SAFETY),)),
    )


def _note(entry: doc.Entry, roles: list[str]) -> Note:
    """A caution; where there are two trials its title tells of which it is, if it is not of both."""
    heading = title(entry["code"])
    if len(roles) > 1 and entry["trial"] is not None and entry["code"] not in OF_BOTH_TRIALS:
        role = roles[entry["trial"]]
        heading = f"{heading}, in {role[:1].lower()}{role[1:]}"
    return Note(SEVERITIES[entry["severity"]], heading, entry["message"])


def _roles(document: doc.Document) -> list[str]:
    """What each trial is in the check."""
    baseline = document["checks"][0]["baseline_trial"]
    if document["reference"] is None:
        return ["The trial"] * len(document["trials"])
    return [
        "The baseline's trial" if place == baseline else "The candidate's trial"
        for place in range(len(document["trials"]))
    ]


def _kept_as(kept: doc.Entry | None) -> list[Fact]:
    """Name, date and note of a baseline that was asked for by its name."""
    if kept is None:
        return []
    told = [f"{doc.clean(kept['name'])}, of {day(kept['date'])}", doc.clean(kept["note"] or "")]
    return [Fact("Baseline kept as", ". ".join(part for part in told if part))]


def _method(document: doc.Document) -> Section:
    found = document["method"]
    used, left = document["rf_channels"]["used"], document["rf_channels"]["left_out"]
    versions = ", ".join(
        f"{doc.clean(name)} {doc.clean(number)}" for name, number in found["versions"].items()
    )
    how = ", ".join(dict.fromkeys(str(check["method"]) for check in document["checks"]))
    facts = (
        Fact("Check id", doc.clean(document["check_id"])),
        Fact("Limits", how),
        Fact(
            "Error",
            f"{numerals.per_cent(found['alpha'])}, {found['sides']}, over all candidates "
            f"({found['several']})",
        ),
        Fact("Margin", f"{_amount(document, document['margin'])}, from the {document['margin_from']}"),
        Fact(
            "Looks",
            f"{found['looks']}, {numerals.number_of(found['planned_rounds'], 'round', 'rounds')} planned",
        ),
        *([] if document["reference"] is None else [Fact("Joined by", doc.clean(document["reference"]))]),
        *_kept_as(document["baseline_kept_as"]),
        Fact("Signals", f"{numerals.count(len(used))} used, {numerals.count(len(left))} left out"),
        Fact("Program", f"version {doc.clean(found['version'])}; seed {found['seed']}; {versions}"),
    )
    rows = [[doc.clean(one["rf_channel"]), doc.clean(one["why"])] for one in left]
    shown = table("Signals left out", [("RF channel", "name"), ("why", "words")], rows, most=MOST_ROWS)
    return Section("method", "Method", facts=(FactList(facts),), tables=(shown,) if rows else ())
