"""The rows of a run that is entered by hand: a channel, what the meter showed, what is wrong with it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from reports import numerals
from reports.document import clean
from reports.language import marked, say
from service.errors import Fault
from service.pages.fields import SELECTED, Option, Values, number_in
from service.trial.trial import Channel, Meter

READ: Final = ""
LOST: Final = marked("nothing found")
SKIPPED: Final = marked("not scanned")
STATES: Final[Mapping[str, str]] = {READ: marked("as typed"), LOST: LOST, SKIPPED: SKIPPED}
"""What a form sends for a channel, and its words."""
UNITS: Final[Mapping[str, str]] = {
    "bars": marked("bars"),
    "percent": marked("percent"),
    **{unit: unit for unit in ("dB", "dBmV", "dBm")},
    "dBuV": "dBµV",
}
"""The units of meters as they are read in a sentence."""
MOST_BUTTONS: Final = 21
"""Steps of a scale that are given a button each; a longer scale is typed."""

EMPTY: Final = marked("Type what the meter shows, or choose nothing found or not scanned.")
BOTH: Final = marked("A reading and {state} cannot both be: empty the field, or choose as typed.")
NO_NUMBER: Final = marked("{given} is no number. Type what the meter shows. {allowed}")
OUTSIDE: Final = marked("The meter does not show {given}. {allowed}")

Faults = Mapping[str, Sequence[str]]
"""What is wrong, by the id of the channel."""


@dataclass(frozen=True)
class Row:
    """A channel of the run; `number` counts from 1, `signal` tells its RF channel.

    mark, invalid: "at-fault" and "true" where faults are.
    """

    number: str
    channel: str
    name: str
    signal: str
    value: str
    states: tuple[Option, ...]
    faults: tuple[str, ...]
    mark: str
    invalid: str


def rows(channels: Sequence[Channel], values: Values, faults: Faults) -> tuple[Row, ...]:
    """The rows with what was sent for them."""
    return tuple(_row(number, channel, values, faults) for number, channel in enumerate(channels, start=1))


def _row(number: int, channel: Channel, values: Values, faults: Faults) -> Row:
    told = tuple(faults.get(channel.id, ()))
    state = values.get(f"state:{channel.id}", READ)
    return Row(
        number=str(number),
        channel=channel.id,
        name=clean(channel.label),
        signal="" if channel.rf_channel is None else say("RF channel {name}", name=clean(channel.rf_channel)),
        value=values.get(f"value:{channel.id}", ""),
        states=tuple(
            Option(value, say(text), SELECTED if value == state else ()) for value, text in STATES.items()
        ),
        faults=told,
        mark="at-fault" if told else "sound",
        invalid="true" if told else "false",
    )


def readings_of(
    channels: Sequence[Channel], values: Values, *, run: Mapping[str, Any], meter: Meter
) -> tuple[list[dict[str, Any]], dict[str, list[str]]]:
    """The readings that the form holds, each with what all of the run share, and the faults of its rows."""
    readings: list[dict[str, Any]] = []
    faults: dict[str, list[str]] = {}
    for channel in channels:
        text = values.get(f"value:{channel.id}", "").strip()
        state = values.get(f"state:{channel.id}", READ)
        fault = _fault(text, state, meter)
        if fault:
            faults[channel.id] = [fault]
        elif state == LOST:
            readings.append({**run, "channel": channel.id, "received": False})
        elif state == READ:
            readings.append({**run, "channel": channel.id, "value": number_in(text)})
    return readings, faults


def _fault(text: str, state: str, meter: Meter) -> str:
    """What is wrong with a row; "" where nothing is."""
    if state not in STATES:
        return say("Choose as typed, nothing found or not scanned.")
    if state != READ:
        return say(BOTH, state=say(STATES[state])) if text else ""
    if not text:
        return say(EMPTY)
    number = number_in(text)
    if isinstance(number, str):
        return say(NO_NUMBER, given=text, allowed=allowed(meter))
    low, high = meter.lowest, meter.highest
    outside = (low is not None and number < low) or (high is not None and number > high)
    return say(OUTSIDE, given=text, allowed=allowed(meter)) if outside else ""


def faults_by_channel(
    found: Sequence[Fault], readings: Sequence[Mapping[str, Any]]
) -> tuple[dict[str, list[str]], list[Fault]]:
    """The faults of single readings by their channel, and the others."""
    placed: dict[str, list[str]] = {}
    others: list[Fault] = []
    for fault in found:
        steps = (fault.pointer or "").split("/")
        known = len(steps) > 3 and steps[1] == "readings" and steps[2].isdecimal()
        if known and steps[3] in {"value", "received", "channel"} and int(steps[2]) < len(readings):
            placed.setdefault(str(readings[int(steps[2])]["channel"]), []).append(fault.detail)
        else:
            others.append(fault)
    return placed, others


def pad(meter: Meter) -> tuple[str, ...]:
    """The readings that have a button each, from the lowest to the highest; none for a long or open scale."""
    if meter.lowest is None or meter.highest is None or not meter.resolution:
        return ()
    steps = round((meter.highest - meter.lowest) / meter.resolution)
    if not 1 <= steps < MOST_BUTTONS:
        return ()
    return tuple(f"{meter.lowest + step * meter.resolution:.10g}" for step in range(steps + 1))


def allowed(meter: Meter) -> str:
    """What the meter may show, in words."""
    unit, lowest = say(UNITS[meter.unit]), numerals.plain(meter.lowest or 0.0)
    if meter.lowest is None and meter.highest is None:
        return say("In {unit}, with a decimal point or comma.", unit=unit)
    if meter.highest is None:
        return say("In {unit}, from {lowest} up.", unit=unit, lowest=lowest)
    highest = numerals.plain(meter.highest)
    return say("In {unit}, from {lowest} to {highest}.", unit=unit, lowest=lowest, highest=highest)
