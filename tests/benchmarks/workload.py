"""The trials the benchmarks run on, drawn with a fixed seed."""

import json
from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True)
class Size:
    """How many of everything a trial has."""

    elements: int = 8
    rounds: int = 6
    channels: int = 36
    rf_channels: int = 24

    def __str__(self) -> str:
        return (
            f"{self.elements} elements x {self.rounds} rounds x {self.channels} channels "
            f"on {self.rf_channels} RF channels"
        )


USUAL = Size()


def trial_document(size: Size = USUAL) -> dict[str, object]:
    """A percent meter and elements of equal standing."""
    return {
        "title": "Benchmark",
        "meter": {"unit": "percent"},
        "planned_rounds": size.rounds,
        "elements": [{"id": f"e{k}"} for k in range(size.elements)],
        "channels": [
            {"id": f"c{c}", "rf_channel": f"{21 + c % size.rf_channels}"} for c in range(size.channels)
        ],
    }


def readings(size: Size = USUAL, *, seed: int = 1) -> list[dict[str, object]]:
    """A reading of every element in every round on every channel."""
    stream = np.random.RandomState(seed)
    levels, gains = (1, 1, size.channels), (size.elements, 1, 1)
    level = 50 + 8 * stream.normal(size=levels) + 2 * stream.normal(size=gains)
    noise = 2 * stream.normal(size=(size.elements, size.rounds, size.channels))
    values = np.clip(np.rint(level + noise), 0, 100)
    return [
        {"element": f"e{k}", "round": r + 1, "channel": f"c{c}", "value": float(values[k, r, c])}
        for k, r, c in np.ndindex(values.shape)
    ]


def request_body(size: Size = USUAL, *, seed: int = 1) -> bytes:
    """The trial and its readings as the body of a verdict request."""
    return json.dumps({"trial": trial_document(size), "readings": readings(size, seed=seed)}).encode()
