"""The trial: what was tried, what was planned, what was done, and what was left out, all counted."""

from reports import document as doc
from reports import numerals
from reports.view import amendments, ranking
from reports.view.model import Bounds, Fact, FactList, Section, Table
from reports.view.tables import table
from reports.wording import rule, value_pick
from reports.wording.safety import without_position
from reports.wording.speech import Speech, listed

MOST_RUNS = 3
_WHY = {
    "not scanned in every run": "not scanned in every run",
    "nothing received on an unbounded meter": (
        "nothing received in some run, on a meter without a lowest reading"
    ),
    "same end of the scale in every run": "at the same end of the scale in every run",
}


def section(speech: Speech, bounds: Bounds) -> Section:
    """What was compared, the plan, the flow of runs and channels, the meter."""
    return Section(
        anchor="trial",
        title="The trial",
        facts=(FactList((*_setting(speech), *_plan(speech), *_flow(speech), *_meter(speech))),),
        tables=(_elements(speech, bounds), *_left_out(speech, bounds), *_struck(speech, bounds)),
    )


def _setting(speech: Speech) -> list[Fact]:
    site = without_position(doc.clean(speech.trial["site"] or ""))
    return [
        Fact("Site, by its class", site or "not given"),
        Fact("Readings taken by", doc.clean(speech.trial["taken_by"] or "") or "not given"),
    ]


def _plan(speech: Speech) -> list[Fact]:
    trial = speech.trial
    seed = speech.document["method"]["order_seed"]
    order = (
        f"drawn by this program, seed {seed}"
        if seed is not None
        else "not drawn by this program; no seed of an order is known"
    )
    codes = {caution["code"] for caution in speech.document["cautions"]}
    stated = (
        "not stated, so the usual number was taken"
        if "plan-not-stated" in codes
        else "as the trial document states"
    )
    return [
        Fact("Plan", f"{speech.rounds(trial['planned_rounds'])}, {stated}; looks: {_looks(speech)}"),
        Fact("Order of runs", order),
        Fact("Margin", f"{rule.margin_note(speech)} Confidence {numerals.per_cent(trial['confidence'])}."),
        Fact("Reference", _reference(speech)),
        Fact("Changes to the plan", amendments.in_short(speech)),
    ]


def _looks(speech: Speech) -> str:
    return "at the planned end only" if speech.trial["looks"] == "planned end" else "after every round"


def _reference(speech: Speech) -> str:
    chosen = speech.trial["reference"]
    return (
        f"{speech.label(chosen)}, run in every round and never touched" if chosen in speech.labels else "none"
    )


def _flow(speech: Speech) -> list[Fact]:
    runs, channels = speech.document["provenance"]["runs"], len(speech.document["channels"])
    signals, used = len(doc.all_signals(speech.document)), len(doc.signals(speech.document))
    done = (
        f"{_count(runs['planned'])} planned, {_count(runs['done'])} done, {_count(runs['left_out'])} left out"
    )
    return [
        Fact("Runs", done),
        Fact(
            "Channels",
            f"{numerals.number_of(channels, 'channel', 'channels')} scanned, merged into "
            f"{numerals.number_of(signals, 'signal', 'signals')} (RF channels); {numerals.count(used)} "
            f"entered the comparison, {numerals.count(signals - used)} left out",
        ),
    ]


def _count(number: float | None) -> str:
    return "not known" if number is None else numerals.count(number)


def _meter(speech: Speech) -> list[Fact]:
    meter, read = speech.trial["meter"], speech.document["read_as"]
    ends = [
        numerals.plain(meter[end]) if meter[end] is not None else "no end" for end in ("lowest", "highest")
    ]
    step = read.get("resolution") if read.get("resolution") is not None else meter["resolution"]
    resolution = (
        "not known" if step is None else f"{numerals.plain(step)} ({read.get('resolution_from') or 'stated'})"
    )
    needed = (
        f", reception fails below {numerals.plain(meter['needed'])}" if meter["needed"] is not None else ""
    )
    return [
        Fact(
            "Meter", f"{speech.unit.name}; scale from {ends[0]} to {ends[1]}; resolution {resolution}{needed}"
        ),
        Fact("What the unit is not", speech.unit.is_not),
    ]


def _elements(speech: Speech, bounds: Bounds) -> Table:
    headings = [
        (speech.things.one, "name"),
        ("id", "words"),
        ("material and form", "words"),
        ("condition", "words"),
        ("cost", "number"),
        ("rounds", "number"),
        ("part in the trial", "words"),
    ]
    whole = doc.labels(speech.document)
    rows = [_element(speech, entry, whole[entry["id"]]) for entry in speech.document["elements"]]
    return table(f"The {speech.things.many} tried", headings, rows, most=bounds.rows)


def _element(speech: Speech, entry: doc.Entry, whole: str) -> list[str]:
    short = speech.label(entry["id"])
    given = next(item for item in speech.trial["elements"] if item["id"] == entry["id"])
    part = "competes" if entry["role"] == "competes" else ranking.standing(speech, entry)
    return [
        whole if short == whole else f"#{short.rsplit('#', 1)[1]}: {whole}",
        doc.clean(entry["id"]),
        described(given),
        doc.clean(given.get("condition") or ""),
        value_pick.cost(entry),
        numerals.count(entry["rounds"]),
        part,
    ]


def described(given: doc.Entry) -> str:
    """Material, form and size of an element as far as given: "brass, rod, 3 mm thick, 690 mm long"."""
    gauge = given.get("gauge")
    parts = [
        doc.clean(given.get("material") or ""),
        doc.clean(given.get("form") or ""),
        f"{numerals.plain(given['diameter_mm'])} mm thick" if given.get("diameter_mm") is not None else "",
        f"gauge {doc.clean(gauge['number'])} ({doc.clean(gauge.get('table') or 'table not given')})"
        if gauge
        else "",
        f"{numerals.plain(given['length_mm'])} mm long" if given.get("length_mm") is not None else "",
        f"coating: {doc.clean(given['coating'])}" if given.get("coating") else "",
        f"{numerals.plain(given['pad_db'])} dB put in" if given.get("pad_db") is not None else "",
    ]
    return ", ".join(part for part in parts if part)


def _left_out(speech: Speech, bounds: Bounds) -> tuple[Table, ...]:
    read = speech.document["read_as"]
    left = [*(read.get("left_out") or ()), *(read.get("channels_left_out") or ())]
    if not left:
        return ()
    rows = [
        [_left_name(entry), _WHY.get(entry["why"], doc.clean(entry["why"])), _runs(speech, entry)]
        for entry in left
    ]
    headings = [("left out", "name"), ("why", "words"), ("runs that caused it", "words")]
    return (table("Left out of the comparison", headings, rows, most=bounds.rows),)


def _left_name(entry: doc.Entry) -> str:
    if "channel" in entry:
        return f"channel {doc.clean(entry['channel'])}"
    return f"RF channel {doc.clean(entry['rf_channel'])}"


def _runs(speech: Speech, entry: doc.Entry) -> str:
    runs = entry.get("runs") or []
    named = [f"{speech.label(run['element'])} in round {run['round']}" for run in runs[:MOST_RUNS]]
    more = (entry.get("run_count") or len(runs)) - len(named)
    return listed([*named, f"{numerals.count(more)} more"] if more > 0 else named)


def _struck(speech: Speech, bounds: Bounds) -> tuple[Table, ...]:
    struck = speech.document["struck"]
    if not struck or not struck["runs"]:
        return ()
    rows = [
        [speech.label(run["element"]), str(run["round"]), doc.clean(run["reason"] or "")]
        for run in struck["runs"]
    ]
    headings = [(speech.things.one, "name"), ("round", "number"), ("reason", "words")]
    without = struck["without_strikes"]
    notes = (_without(speech, without),) if without else ()
    return (table("Runs taken out, and why", headings, rows, most=bounds.rows, notes=notes),)


def _without(speech: Speech, without: doc.Entry) -> str:
    winner = f" ({speech.label(without['winner'])})" if without["winner"] else ""
    return (
        f"With these runs left in, the outcome is “{without['outcome']}”{winner}; as reported, without "
        f"them, it is “{speech.verdict['outcome']}”."
    )
