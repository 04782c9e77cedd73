"""The trend of the level over the trial, with its interval."""

from reports import numerals
from reports.view.model import Fact, FactList, Section
from reports.wording import drift
from reports.wording.speech import Speech


def section(speech: Speech) -> Section:
    """Slope, interval, p and the whole way, or why no trend is given."""
    facts = _facts(speech) if speech.document["drift"] else ()
    return Section(
        anchor="drift",
        title="Drift",
        paragraphs=(drift.sentence(speech),),
        facts=(FactList(facts),) if facts else (),
    )


def _facts(speech: Speech) -> tuple[Fact, ...]:
    found, ends = speech.document["drift"], speech.document["drift"]["interval"]
    hourly = found["slope_per_hour"] is not None
    slope = found["slope_per_hour"] if hourly else found["slope_per_run"]
    width = numerals.half_width(ends["low"], ends["high"])
    by, level = "an hour" if hourly else "a run", numerals.per_cent(ends["level"])
    over = numerals.signed(found["over_trial"], drift.reach_over_trial(found))
    return (
        Fact("Trend of", drift.followed(speech).rstrip(",")),
        Fact("Runs it rests on" if found["element"] else "Rounds it rests on", numerals.count(found["runs"])),
        Fact("Slope", f"{speech.measured(numerals.signed(slope, width))} {by}"),
        Fact(f"Interval of the slope, {level}", f"{speech.span(ends['low'], ends['high'])} {by}"),
        Fact("p of no trend", numerals.probability(found["p_value"])),
        Fact("Over the whole trial", speech.measured(over)),
    )
