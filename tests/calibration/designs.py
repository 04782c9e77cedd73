"""The simulated designs of the calibration study: noise, number of elements, truth, and what is promised.

All are looked at after every round to twice the plan of six. Invented noise, no readings of anybody.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from typing import Any

import numpy as np

from tests.calibration import generators as make

PROMISE = 0.05
ROUNDS = 12
CHANNELS = 12
MARGIN = 2.5  # in run-to-run sd, for elements one margin apart: `within noise` is then in reach
FINE = 0.5  # elsewhere: out of reach, so that no false call is replaced by `within noise` later
ELEMENTS = (2, 3, 4, 8)
ONE_MARGIN = "one margin apart"
NOISES: dict[str, Callable[..., Any]] = {
    "normal": make.normal,
    "heavy-tailed": make.heavy_tailed,
    "skewed": make.skewed,
    "outliers": make.outliers,
    "coarse meter": make.coarse_meter,
    "one twice as noisy": partial(make.one_noisy, times=2.0),
    "one three times as noisy": make.one_noisy,
}


@dataclass(frozen=True)
class Design:
    """One design: how to draw its trials, the truth, the rule, and the promise where one is made.

    draw(trials, seed) answers (scores (trials, K, R), means (K,) or (trials, K)).
    """

    name: str
    elements: int
    truth: str
    draw: Callable[[int, int], tuple[Any, Any]]
    rule: dict[str, float] = field(default_factory=dict)
    promise: float | None = PROMISE

    @property
    def key(self) -> str:
        """A file name for the counts of this design."""
        return f"{self.name}, {self.truth}, {self.elements}".replace(" ", "-").replace(",", "")


def designs() -> list[Design]:
    """The designs within the promise, then those beyond it."""
    return [*_within(), *_beyond()]


def _within() -> list[Design]:
    found = []
    for name, noise in NOISES.items():
        for elements in ELEMENTS:
            found.append(_design(name, noise, "all equal", np.zeros(elements)))
            found.append(_design(name, noise, ONE_MARGIN, make.one_ahead(elements, MARGIN)))
        found += [_design(name, noise, "two tied on top", make.tied_on_top(n, 3.0)) for n in (3, 4, 8)]
    found += [_quiet(elements) for elements in ELEMENTS]
    return found


def _beyond() -> list[Design]:
    many = [_design("normal", make.normal, "all equal", np.zeros(n)) for n in (10, 12, 16)]
    noisy = [
        _design("one three times as noisy", make.one_noisy, "all equal", np.zeros(n)) for n in (10, 12, 16)
    ]
    levels = [
        _design(f"normal, at {1 - alpha:.2f}", make.normal, "all equal", np.zeros(n), alpha=alpha)
        for alpha in (0.20, 0.10, 0.01)
        for n in (2, 4, 8)
    ]
    five = [
        _design(
            "one five times as noisy",
            partial(make.one_noisy, times=5.0),
            "all equal",
            np.zeros(n),
            promised=False,
        )
        for n in ELEMENTS
    ]
    both = [
        _design(
            "skewed and one three times as noisy",
            make.skewed_one_noisy,
            "all equal",
            np.zeros(n),
            promised=False,
        )
        for n in ELEMENTS
    ]
    return [*many, *noisy, *levels, *five, *both]


def _design(
    name: str,
    noise: Callable[..., Any],
    truth: str,
    means: Any,
    *,
    alpha: float = 0.05,
    promised: bool = True,
) -> Design:
    def draw(trials: int, seed: int) -> tuple[Any, Any]:
        return noise(means, trials=trials, rounds=ROUNDS, seed=seed), means

    margin = MARGIN if truth == ONE_MARGIN else FINE
    return Design(
        name, len(means), truth, draw, {"alpha": alpha, "margin": margin}, alpha if promised else None
    )


def _quiet(elements: int) -> Design:
    def draw(trials: int, seed: int) -> tuple[Any, Any]:
        return make.quiet_coarse_meter(
            elements, trials=trials, rounds=ROUNDS, seed=seed, rf_channels=CHANNELS
        )

    fixed = {"floor": make.rounding_floor(1.0, CHANNELS), "margin": 0.25}
    return Design("quiet coarse meter", elements, "each its own level", draw, fixed)
