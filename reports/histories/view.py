"""A design's history as finished strings, for every form that carries text."""

from reports import document as doc
from reports import numerals
from reports.checks.trials import trial_section
from reports.dates import day, scanned
from reports.finding import Finding
from reports.histories.figure import figure
from reports.severities import SEVERITIES, gravest_first
from reports.view.model import Draw, Fact, FactList, Listing, Note, Section, Table
from reports.view.tables import table
from reports.wording.check_cautions import title
from reports.wording.design_history import per_year
from reports.wording.safety import SAFETY
from reports.wording.speech import listed
from reports.wording.vocabulary import UNITS

MOST_ROWS = 64
MOST_DATES = 12
SAFETY_CODE = "safety"  # speaks of all trials


def history_view(document: doc.Document, draw: Draw) -> Finding:
    """The report of a completed design-history document."""
    trials = document["trials"]
    first = min(trial["provenance"]["first_at"] for trial in trials)
    last = max(trial["provenance"]["last_at"] for trial in trials)
    names = doc.clean(document["element_label"]), doc.clean(document["reference_label"])
    return Finding(
        kind="design history",
        named="History",
        code=doc.clean(document["history_id"]),
        title=f"Design history: {names[0]} against {names[1]}",
        scanned=scanned({"first_at": first, "last_at": last}),
        issued=day(last),
        issued_at=(last,),
        outcome=document["outcome"],
        statement=document["statement"],
        rule=rule(document),
        findings=(document["first_to_last"]["statement"], f"The pace of the line: {per_year(document)}."),
        figures=(figure(document, draw),),
        tables=(_points(document),),
        sections=_sections(document),
    )


def rule(document: doc.Document) -> str:
    """The decision rule in plain words, with its error rates."""
    alpha = 1.0 - document["confidence"]
    rate, half = numerals.in_a_hundred(alpha), numerals.in_a_hundred(alpha / 2)
    margin = _amount(document, document["margin"])
    return (
        f"The rule: creeps is said where the {_level(document)} interval of the change over these dates "
        f"leaves out zero and reaches beyond {margin}; where nothing creeps, at most {rate} of 100 such "
        f"histories say so. No creep beyond the margin is said where the whole interval lies within {margin} "
        f"up or down; where the change is that large, at most {half} of 100 say so."
    )


def _level(document: doc.Document) -> str:
    return numerals.per_cent(document["confidence"])


def _amount(document: doc.Document, value: float) -> str:
    text, unit = numerals.plain(value), UNITS[document["unit"]]
    return f"{text} {unit.one if text == '1' else unit.many}"


def _points(document: doc.Document) -> Table:
    headings = (
        ("date", "name"),
        ("trial", "words"),
        ("difference", "number"),
        (f"{_level(document)} interval", "number"),
        ("rounds", "number"),
    )
    rows = [
        [
            day(one["date"]),
            doc.clean(document["trials"][one["trial"]]["title"] or ""),
            numerals.signed(
                one["difference"], numerals.half_width(one["interval"]["low"], one["interval"]["high"])
            ),
            numerals.between(one["interval"]["low"], one["interval"]["high"]),
            numerals.count(one["rounds"]),
        ]
        for one in document["points"]
    ]
    names = doc.clean(document["element_label"]), doc.clean(document["reference_label"])
    caption = f"{names[0]} less {names[1]} by date, in {UNITS[document['unit']].many}"
    return table(caption, headings, rows, most=MOST_ROWS, kind="stacked")


def _sections(document: doc.Document) -> tuple[Section, ...]:
    return (
        Section("not-seen", "What this history does not see", lists=(Listing(tuple(document["not_seen"])),)),
        Section("cautions", "What could be wrong", notes=_notes(document)),
        _trend(document),
        *(
            trial_section(trial, f"Trial {place + 1}, of {day(document['points'][place]['date'])}", place + 1)
            for place, trial in enumerate(document["trials"])
        ),
        _method(document),
        Section("safety", "Safety", lists=(Listing(SAFETY),)),
    )


def _notes(document: doc.Document) -> tuple[Note, ...]:
    """The cautions, the gravest first; what several trials say alike is said once, with their dates."""
    trials: dict[tuple[str, str, str], list[str]] = {}
    for entry in gravest_first(document["cautions"]):
        said = trials.setdefault((entry["severity"], entry["code"], entry["message"]), [])
        if entry["trial"] is not None and entry["code"] != SAFETY_CODE:
            said.append(day(document["points"][entry["trial"]]["date"]))
    return tuple(
        Note(SEVERITIES[severity], f"{title(code)}{_whose(dates)}", message)
        for (severity, code, message), dates in trials.items()
    )


def _whose(dates: list[str]) -> str:
    """The trials that a caution speaks of."""
    if not dates:
        return ""
    return f" ({'trial' if len(dates) == 1 else 'trials'} of {listed(dates, most=MOST_DATES)})"


def _trend(document: doc.Document) -> Section:
    found, unit = document["trend"], UNITS[document["unit"]].many
    width = numerals.half_width(found["low"], found["high"])
    whence = {
        "between trials": "how far the trials lie from the line",
        "within trials": "the noise of the rounds within the trials",
        "rounding": "the step of the meter",
    }
    facts = (
        Fact("Change over the dates", f"{numerals.signed(found['change'], width)} {unit}"),
        Fact(f"Interval, {_level(document)}", _or_none(numerals.between(found["low"], found["high"]))),
        Fact("p", _or_none(numerals.probability(found["p_value"]))),
        Fact("Pace", per_year(document)),
        Fact("Its width rests on", whence[found["rests_on"]]),
        Fact(
            "Spread of the trials about the line",
            f"{numerals.two_digits(found['between_sd'])} {unit}, "
            f"{numerals.number_of(found['between_degrees_of_freedom'], 'degree', 'degrees')} of freedom",
        ),
        Fact(
            "Error of the change from the rounds alone",
            f"{numerals.two_digits(found['within_error'])} {unit}",
        ),
    )
    return Section("trend", "The trend", facts=(FactList(facts),))


def _or_none(text: str) -> str:
    return text or "none: nothing varies, or rounding decides"


def _method(document: doc.Document) -> Section:
    made = document["method"]
    used, left = document["rf_channels"]["used"], document["rf_channels"]["left_out"]
    versions = ", ".join(
        f"{doc.clean(name)} {doc.clean(number)}" for name, number in made["versions"].items()
    )
    days = [day(point["date"]) for point in document["points"]]
    facts = (
        Fact("History id", doc.clean(document["history_id"])),
        Fact("Method", made["name"]),
        Fact("What decides", made["decides"]),
        Fact("Confidence", f"{_level(document)}, from the {document['confidence_from']}"),
        Fact("Margin", f"{_amount(document, document['margin'])}, from the {document['margin_from']}"),
        Fact("Looks", made["looks"]),
        Fact("Through", doc.clean(document["reference_label"])),
        Fact("Signals", f"{numerals.count(len(used))} used, {numerals.count(len(left))} left out"),
        Fact("Program", f"version {doc.clean(made['version'])}; {versions}"),
    )
    rows = [[doc.clean(one["rf_channel"]), days[one["trial"]], doc.clean(one["why"])] for one in left]
    headings = (("RF channel", "name"), ("trial of", "words"), ("why", "words"))
    shown = table("Signals left out", headings, rows, most=MOST_ROWS)
    return Section("method", "Method", facts=(FactList(facts),), tables=(shown,) if rows else ())
