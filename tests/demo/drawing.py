"""Draws the demo's readings from its truth.

A reading is

    level of its RF channel + gain of the element + effect of the round + effect of the mounting
    + noise of that RF channel in that scan + noise of that channel

rounded to the meter's step and clipped to its ends; below half a bar the tuner finds nothing. The gains were
written down before the first reading was drawn, and the seed is 1, whatever verdict comes of it.

numpy's RandomState is used because its stream is frozen for good (NEP 19, "Random number generator policy").
"""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import numpy as np
from scenario import (
    DB_IN_A_BAR,
    GAIN_IN_BARS,
    INVENTED,
    METER,
    MINUTES_PER_RUN,
    ROUNDS,
    SEED,
    STATIONS,
    channels_of_demo,
)

ROUND_SD, MOUNTING_SD, SIGNAL_SD, CHANNEL_SD = 0.3, 0.15, 0.4, 0.15
FOUND_FROM = 0.5
FIRST_SCAN = datetime(2025, 5, 10, 8, 0, tzinfo=UTC)
ROUNDS_A_DAY = 3

# The small trial: two loops on a decibel meter.
SMALL_GAIN_DB = {"copper-loop": 0.0, "steel-loop": -1.8}
SMALL_CHANNELS = {
    "Brellmouth One": ("21", 52.0),
    "Brellmouth Two": ("21", 52.0),
    "Dunskell One": ("28", 47.0),
    "Roskelby One": ("39", 58.0),
}


@dataclass(frozen=True)
class Reading:
    """One meter value; `value` is None where the scan found nothing."""

    element: str
    round: int
    channel: str
    rf_channel: str
    value: float | None
    at: datetime | None = None


def draw_truth(stream: np.random.RandomState) -> dict[str, object]:
    """Every number that a reading is made of, except its noise."""
    levels = stream.permutation(np.linspace(1.0, 9.0, len(STATIONS)))
    rounds = stream.normal(0.0, ROUND_SD, ROUNDS)
    mountings = stream.normal(0.0, MOUNTING_SD, (ROUNDS, len(GAIN_IN_BARS)))
    ids = list(GAIN_IN_BARS)
    return {
        "note": INVENTED,
        "seed": SEED,
        "meter": {**METER, "db_in_a_bar": DB_IN_A_BAR, "finds_nothing_below_bars": FOUND_FROM},
        "gain_bars": GAIN_IN_BARS,
        "level_bars": dict(zip(STATIONS, levels.round(6).tolist(), strict=True)),
        "sd_bars": {
            "round": ROUND_SD,
            "mounting": MOUNTING_SD,
            "rf_channel_in_a_scan": SIGNAL_SD,
            "channel": CHANNEL_SD,
        },
        "round_bars": rounds.round(6).tolist(),
        "mounting_bars": [dict(zip(ids, row, strict=True)) for row in mountings.round(6).tolist()],
        "order": [[ids[k] for k in stream.permutation(len(ids))] for _ in range(ROUNDS)],
    }


def demo_readings(truth: dict, stream: np.random.RandomState) -> list[Reading]:
    """Six rounds of seven runs, in the order they were taken."""
    return [
        reading
        for round_number in range(1, ROUNDS + 1)
        for place in range(len(GAIN_IN_BARS))
        for reading in one_run(truth, round_number, place, stream)
    ]


def one_run(truth: dict, round_number: int, place: int, stream: np.random.RandomState) -> list[Reading]:
    """One element mounted once, and one pass over all channels."""
    element = truth["order"][round_number - 1][place]
    offset = truth["gain_bars"][element] + truth["round_bars"][round_number - 1]
    offset += truth["mounting_bars"][round_number - 1][element]
    noise = dict(zip(STATIONS, stream.normal(0.0, SIGNAL_SD, len(STATIONS)), strict=True))
    at = start_of(round_number, place)
    readings = []
    for channel in channels_of_demo():
        rf_channel = channel["rf_channel"]
        level = truth["level_bars"][rf_channel] + offset + noise[rf_channel] + stream.normal(0.0, CHANNEL_SD)
        readings.append(Reading(element, round_number, channel["id"], rf_channel, meter_reading(level), at))
    return readings


def meter_reading(level: float) -> float | None:
    """What the invented tuner shows for a level in bars."""
    if level < FOUND_FROM:
        return None
    return float(np.clip(np.rint(level), METER["lowest"], METER["highest"]))


def start_of(round_number: int, place: int) -> datetime:
    """When the run in that place of that round began."""
    day, block = divmod(round_number - 1, ROUNDS_A_DAY)
    minutes = (block * len(GAIN_IN_BARS) + place) * MINUTES_PER_RUN
    return FIRST_SCAN + timedelta(days=day, minutes=minutes)


def small_readings(stream: np.random.RandomState) -> list[Reading]:
    """Two elements, six rounds, four channels on three RF channels, in dB above a microvolt."""
    elements, readings = tuple(SMALL_GAIN_DB), []
    for round_number in range(1, ROUNDS + 1):
        round_db = stream.normal(0.0, 0.6)
        for k in stream.permutation(2):
            element, mounting_db = elements[k], stream.normal(0.0, 0.3)
            for channel, (rf_channel, level) in SMALL_CHANNELS.items():
                value = level + SMALL_GAIN_DB[element] + round_db + mounting_db + stream.normal(0.0, 0.4)
                readings.append(Reading(element, round_number, channel, rf_channel, round(value, 1)))
    return readings
