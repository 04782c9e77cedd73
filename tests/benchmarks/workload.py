"""The trials the benchmarks run on, drawn with a fixed seed, and the clock they share."""

import json
from collections.abc import Callable
from pathlib import Path
from statistics import median
from time import perf_counter

import numpy as np

ELEMENTS, ROUNDS, RF_CHANNELS, CHANNELS = 8, 6, 24, 36


def trial_document(elements: int = ELEMENTS) -> dict[str, object]:
    """A percent meter and elements of equal standing."""
    return {
        "title": "Benchmark",
        "meter": {"unit": "percent"},
        "planned_rounds": ROUNDS,
        "elements": [{"id": f"e{k}"} for k in range(elements)],
        "channels": [{"id": f"c{c}", "rf_channel": f"{21 + c % RF_CHANNELS}"} for c in range(CHANNELS)],
    }


def readings() -> list[dict[str, object]]:
    """8 elements x 6 rounds x 36 channels on 24 RF channels: 1 728 readings."""
    stream = np.random.RandomState(1)
    level = 50 + 8 * stream.normal(size=(1, 1, CHANNELS)) + 2 * stream.normal(size=(ELEMENTS, 1, 1))
    values = np.clip(np.rint(level + 2 * stream.normal(size=(ELEMENTS, ROUNDS, CHANNELS))), 0, 100)
    return [
        {"element": f"e{k}", "round": r + 1, "channel": f"c{c}", "value": float(values[k, r, c])}
        for k, r, c in np.ndindex(values.shape)
    ]


def request_body() -> bytes:
    """The trial and its readings as the body of a verdict request."""
    return json.dumps({"trial": trial_document(), "readings": readings()}).encode()


def seconds(work: Callable[[], object], *, repeats: int = 9) -> float:
    """The median time of one call, after one call that is not counted."""
    work()
    times = []
    for _ in range(repeats):
        start = perf_counter()
        work()
        times.append(perf_counter() - start)
    return median(times)


def say(what: str, value: float, bar: float, *, unit: str = "times") -> None:
    """One line: what was measured, the figure, the bar beside it."""
    verdict = "within" if value <= bar else "OVER"
    print(f"{what}: {value:.2f} {unit} (bar {bar:g}, {verdict})")


def peak_megabytes() -> float:
    """The largest resident memory this process has had (getrusage would count the parent's before exec)."""
    status = Path("/proc/self/status").read_text(encoding="ascii")
    (line,) = (line for line in status.splitlines() if line.startswith("VmHWM"))
    return int(line.split()[1]) / 1024
