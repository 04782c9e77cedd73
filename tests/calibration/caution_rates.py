"""How often cautions that test readings or order are raised by sound trials, where nothing is wrong.

python -m tests.calibration.caution_rates --trials 2000 --workers 2

prints a table: one line a design, one column a caution, rates in per cent. A rate above what chance allows of
one in twenty (99.9 % binomial upper bound) is marked with an exclamation mark.
"""

import argparse
import zlib
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import cache
from types import SimpleNamespace

import numpy as np
import pandas as pd

from service.analysis.cautions.drift import drift
from service.analysis.cautions.odd_channel_round import odd_channel_round
from service.analysis.cautions.odd_run import odd_run
from service.analysis.cautions.one_rf_channel_decides import one_rf_channel_decides
from service.analysis.cautions.order_fixed import order_fixed
from service.analysis.cautions.reference_step import reference_step
from service.analysis.cautions.unequal_noise import unequal_noise
from service.analysis.facts import Facts
from service.trial.names import with_names_of
from service.trial.readings_table import Readings, readings_frame
from service.trial.rounds import assign_rounds
from service.trial.scores import score_table
from service.trial.trial_document import trial_from_document
from tests.calibration.rates import most_allowed

PROMISE = 0.05
FINDERS = (
    drift,
    reference_step,
    unequal_noise,
    odd_run,
    odd_channel_round,
    order_fixed,
    one_rf_channel_decides,
)
CODES = tuple(finder.__name__.replace("_", "-") for finder in FINDERS)
STRONG, MARGINAL = 6, 3  # RF channels received always, and in seven of ten scans
RUN_SD, CELL_SD, ROUND_SD = 0.5, 0.5, 1.0
Draw = Callable[[np.random.Generator, tuple[int, ...]], np.ndarray]


@dataclass(frozen=True)
class SoundDesign:
    """Elements, rounds and noise of sound trials; `step` is that of the meter, `scale` shrinks the noise."""

    name: str
    elements: int
    rounds: int
    draw: Draw
    step: float = 0.001
    scale: float = 1.0

    @property
    def label(self) -> str:
        """What the table calls it."""
        return f"{self.name}, {self.elements} elements, {self.rounds} rounds"


def normal(stream, shape):
    """Normal noise of standard deviation 1."""
    return stream.standard_normal(shape)


def heavy_tailed(stream, shape):
    """Student's t with 5 degrees of freedom, brought to standard deviation 1."""
    return stream.standard_t(5, shape) / np.sqrt(5 / 3)


def designs():
    """The designs of the table."""
    sizes = [(2, 6), (3, 3), (3, 6), (4, 6), (4, 12), (8, 6)]
    return [
        *(SoundDesign("normal", k, r, normal) for k, r in sizes),
        *(SoundDesign("coarse meter", k, r, normal, step=1.0) for k, r in sizes),
        *(SoundDesign("quiet coarse meter", k, r, normal, step=1.0, scale=0.1) for k, r in ((3, 6), (8, 6))),
        *(SoundDesign("heavy-tailed", k, r, heavy_tailed) for k, r in ((3, 6), (4, 12), (8, 6))),
    ]


def raised(design, trials, seed):
    """How many of so many sound trials raise each caution, in the order of CODES."""
    stream = np.random.default_rng([seed, zlib.crc32(design.label.encode())])
    counts = np.zeros(len(FINDERS), dtype=int)
    for _ in range(trials):
        facts = sound_trial(design, stream)
        counts += [finder(facts) is not None for finder in FINDERS]
    return counts.tolist()


def sound_trial(design, stream):
    """The facts of one trial in a random order, its elements unequal, its noise the same for all."""
    trial, frame = _skeleton(design.elements, design.rounds, design.step)
    values = _read(design, _levels(design, stream))
    lost = stream.random(values.shape) < 0.3
    lost[:, :, :STRONG] = False
    begin = stream.permuted(np.tile(np.arange(design.elements), (design.rounds, 1)), axis=1).T
    minutes = 10 * begin + 24 * 60 * np.arange(design.rounds)
    rows = frame.assign(
        value=np.where(lost, np.nan, values).ravel(),
        received=~lost.ravel(),
        at=pd.Timestamp("2025-05-10T08:00:00Z")
        + pd.to_timedelta(np.repeat(minutes.ravel(), values.shape[2]), unit="min"),
    )
    return Facts(
        trial=trial,
        read_as={"rounds_from": "round column"},
        rows=rows,
        mountings_by_name={},
        table=score_table(trial, rows),
        judgement=SimpleNamespace(judged=np.ones(design.elements, dtype=bool), pairs=()),
        noise=None,
        bootstraps=(),
    )


def _levels(design, stream):
    """Readings before they are rounded, (K, R, M): elements, rounds, RF channels, runs and cells."""
    elements, rounds, channels = design.elements, design.rounds, STRONG + MARGINAL
    level = 30.0 + np.arange(elements)[:, None, None] * 0.7 + stream.uniform(-8, 8, channels)
    level = level + design.scale * ROUND_SD * design.draw(stream, (rounds, 1))
    level = level + design.scale * RUN_SD * design.draw(stream, (elements, rounds, 1))
    return level + design.scale * CELL_SD * design.draw(stream, (elements, rounds, channels))


def _read(design, levels):
    return np.round(levels / design.step) * design.step


@cache
def _skeleton(elements, rounds, step):
    """The trial and a frame of its readings, the values to be filled in."""
    rows = [
        {"element": f"e{k}", "round": r + 1, "channel": f"c{m}", "rf_channel": f"{21 + m}", "value": 1.0}
        for k in range(elements)
        for r in range(rounds)
        for m in range(STRONG + MARGINAL)
    ]
    readings = Readings(readings_frame(rows), {})
    document = {
        "meter": {"unit": "dB", "resolution": step},
        "margin": 0.01,
        "reference": "e0",
        "elements": [{"id": f"e{k}"} for k in range(elements)],
    }
    return with_names_of(trial_from_document(document), readings), assign_rounds(readings).frame


def table(counts, trials):
    """The rates as lines of text."""
    most = most_allowed(PROMISE, trials)
    lines = [f"{trials} sound trials a design, per cent raised", f"{'':44}" + "  ".join(CODES)]
    for design, row in counts.items():
        cells = [
            f"{100 * count / trials:.1f}{'!' if count > most else ' '}".rjust(len(code))
            for count, code in zip(row, CODES, strict=True)
        ]
        lines.append(f"{design.label:44}" + "  ".join(cells))
    return "\n".join(lines)


def main():
    """Simulate every design and print the table."""
    parser = argparse.ArgumentParser(description="How often sound trials raise cautions.")
    parser.add_argument("--trials", type=int, default=2_000)
    parser.add_argument("--workers", type=int, default=2)
    asked = parser.parse_args()
    every = designs()
    with ProcessPoolExecutor(asked.workers) as pool:
        found = pool.map(raised, every, [asked.trials] * len(every), [1] * len(every))
        print(table(dict(zip(every, found, strict=True)), asked.trials))


if __name__ == "__main__":
    main()
