"""The trend of the level over the trial, with its interval."""

from reports import numerals
from reports.language import say
from reports.view.model import Fact, FactList, Section
from reports.wording import drift
from reports.wording.speech import Speech


def section(speech: Speech) -> Section:
    """Slope, interval, p and the whole way, or why no trend is given."""
    facts = _facts(speech) if speech.document["drift"] else ()
    return Section(
        anchor="drift",
        title=say("Drift"),
        paragraphs=(drift.sentence(speech),),
        facts=(FactList(facts),) if facts else (),
    )


def _facts(speech: Speech) -> tuple[Fact, ...]:
    found, ends = speech.document["drift"], speech.document["drift"]["interval"]
    hourly = found["slope_per_hour"] is not None
    slope = found["slope_per_hour"] if hourly else found["slope_per_run"]
    width = numerals.half_width(ends["low"], ends["high"])
    over = numerals.signed(found["over_trial"], drift.reach_over_trial(found))
    interval = say("Interval of the slope, {level}", level=numerals.per_cent(ends["level"]))
    rests = say("Runs it rests on") if found["element"] else say("Rounds it rests on")
    return (
        Fact(say("Trend of"), _followed(speech)),
        Fact(rests, numerals.count(found["runs"])),
        Fact(say("Slope"), _each(speech.measured(numerals.signed(slope, width)), hourly=hourly)),
        Fact(interval, _each(speech.span(ends["low"], ends["high"]), hourly=hourly)),
        Fact(say("p of no trend"), numerals.probability(found["p_value"])),
        Fact(say("Over the whole trial"), speech.measured(over)),
    )


def _followed(speech: Speech) -> str:
    element = speech.document["drift"]["element"]
    if element is None:
        return say("the level of a whole round")
    return say("{element}, the reference", element=speech.name(element))


def _each(change: str, *, hourly: bool) -> str:
    return say("{change} an hour", change=change) if hourly else say("{change} a run", change=change)
