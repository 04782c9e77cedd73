"""The trial: what was tried, what was planned, what was done, and what was left out, all counted."""

from reports import document as doc
from reports import numerals
from reports.language import marked, say, say_as
from reports.view import amendments, flow_tables
from reports.view.model import Bounds, Fact, FactList, Section
from reports.wording import rule
from reports.wording.safety import site_of
from reports.wording.speech import Speech, sentences

_STEP_FROM = {
    "stated": marked("stated"),
    "usual for the unit": marked("usual for the unit"),
    "smallest step in the readings": marked("smallest step in the readings"),
    "none": marked("none"),
}


def section(speech: Speech, bounds: Bounds) -> Section:
    """What was compared, the plan, the flow of runs and channels, the meter."""
    return Section(
        anchor="trial",
        title=say("The trial"),
        facts=(FactList((*_setting(speech), *_plan(speech), *_flow(speech), *_meter(speech))),),
        tables=flow_tables.tables(speech, bounds),
    )


def _setting(speech: Speech) -> list[Fact]:
    taken_by = doc.clean(speech.trial["taken_by"] or "")
    return [
        Fact(say("Site, by its class"), site_of(speech.trial) or say_as("site", "not given")),
        Fact(say("Readings taken by"), taken_by or say_as("person", "not given")),
    ]


def _plan(speech: Speech) -> list[Fact]:
    trial = speech.trial
    seed = speech.document["method"]["order_seed"]
    order = (
        say("drawn by this program, seed {seed}", seed=seed)
        if seed is not None
        else say("not drawn by this program; no seed of an order is known")
    )
    confidence = say("Confidence {level}.", level=numerals.per_cent(trial["confidence"]))
    return [
        Fact(say("Plan"), _rounds_and_looks(speech)),
        Fact(say("Order of runs"), order),
        Fact(say("Margin"), sentences(rule.margin_note(speech), confidence)),
        Fact(say("Reference"), _reference(speech)),
        Fact(say("Changes to the plan"), amendments.in_short(speech)),
    ]


def _rounds_and_looks(speech: Speech) -> str:
    codes = {caution["code"] for caution in speech.document["cautions"]}
    stated = (
        say("not stated, so the usual number was taken")
        if "plan-not-stated" in codes
        else say("as the trial document states")
    )
    rounds = speech.rounds(speech.trial["planned_rounds"])
    return say("{rounds}, {stated}; looks: {looks}", rounds=rounds, stated=stated, looks=_looks(speech))


def _looks(speech: Speech) -> str:
    if speech.trial["looks"] == "planned end":
        return say("at the planned end only")
    return say("after every round")


def _reference(speech: Speech) -> str:
    chosen = speech.trial["reference"]
    if chosen not in speech.labels:
        return say_as("reference", "none")
    return say("{element}, run in every round and never touched", element=speech.label(chosen))


def _flow(speech: Speech) -> list[Fact]:
    runs, channels = speech.document["provenance"]["runs"], len(speech.document["channels"])
    signals, used = len(doc.all_signals(speech.document)), len(doc.signals(speech.document))
    done = say(
        "{planned} planned, {done} done, {left_out} left out",
        planned=_count(runs["planned"]),
        done=_count(runs["done"]),
        left_out=_count(runs["left_out"]),
    )
    scanned = say(
        "{channels} scanned, merged into {signals} (RF channels); {used} entered the comparison, {left_out} "
        "left out",
        channels=numerals.number_of(channels, "channel", "channels"),
        signals=numerals.number_of(signals, "signal", "signals"),
        used=numerals.count(used),
        left_out=numerals.count(signals - used),
    )
    return [Fact(say("Runs"), done), Fact(say("Channels"), scanned)]


def _count(number: float | None) -> str:
    return say_as("number of runs", "not known") if number is None else numerals.count(number)


def _meter(speech: Speech) -> list[Fact]:
    meter = speech.trial["meter"]
    told = say(
        "{meter}; scale from {lowest} to {highest}; resolution {resolution}",
        meter=speech.unit.name,
        lowest=_end(meter["lowest"]),
        highest=_end(meter["highest"]),
        resolution=_step(speech),
    )
    if meter["needed"] is not None:
        needed = numerals.plain(meter["needed"])
        told = say("{meter}, reception fails below {level}", meter=told, level=needed)
    return [Fact(say("Meter"), told), Fact(say("What the unit is not"), speech.unit.is_not)]


def _end(of_scale: float | None) -> str:
    return say("no end") if of_scale is None else numerals.plain(of_scale)


def _step(speech: Speech) -> str:
    read, stated = speech.document["read_as"], speech.trial["meter"]["resolution"]
    step = read.get("resolution") if read.get("resolution") is not None else stated
    if step is None:
        return say_as("resolution", "not known")
    return f"{numerals.plain(step)} ({say(_STEP_FROM[read.get('resolution_from') or 'stated'])})"
