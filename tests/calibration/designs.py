"""The simulated designs of the calibration study: noise, number of elements, truth, and what is promised.

All are looked at after every round to twice the plan of six, unless the name says otherwise. The noise is
invented; no reading was taken at any mast.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from typing import Any

import numpy as np

from tests.calibration import generators as make
from tests.calibration import strikes
from tests.calibration.rates import Rates

PROMISE = 0.05
ROUNDS = 12
CHANNELS = 12
MARGIN = 2.5  # in run-to-run sd, for elements one margin apart: `within noise` is then in reach
FINE = 0.5  # elsewhere: out of reach, so that no false call is replaced by `within noise` later
AHEAD = 3.0  # of the winner whose power is measured, and of two tied on top
FAR = 8.0  # between couples of equal elements: these are called early, and only equal ones are left
ELEMENTS = (2, 3, 4, 8)
MANY = (10, 12, 16)
ALL_EQUAL, TIED, COUPLES = "all equal", "two tied on top", "equal couples far apart"
ONE_MARGIN, ONE_AHEAD = "one margin apart", "winner 3 sd ahead"
COARSE = {"floor": make.rounding_floor(1.0, 1)}
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

    draw(trials, seed) answers (scores (trials, K, R), means (K,) or (trials, K)); present (K, R): the runs
    that are made, all unless given; struck: how a run is struck between looks, a function of `strikes`;
    group: the heading it stands under.
    """

    name: str
    elements: int
    truth: str
    draw: Callable[[int, int], tuple[Any, Any]]
    rule: dict[str, Any] = field(default_factory=dict)
    promise: float | None = PROMISE
    present: Any = None
    struck: Callable[..., Rates] | None = None
    group: str = "noise"

    @property
    def key(self) -> str:
        """A file name for the counts of this design."""
        return f"{self.name}, {self.truth}, {self.elements}".replace(" ", "-").replace(",", "")


def designs() -> list[Design]:
    """Every design of the study, headings together."""
    return [*_noises(), *_powers(), *_many(), *_plans(), *_beyond(), *_with_gaps(), *_strikes()]


def _noises() -> list[Design]:
    found = []
    for name, noise in NOISES.items():
        rule = COARSE if name == "coarse meter" else {}
        for n in ELEMENTS:
            found.append(_design(name, noise, ALL_EQUAL, np.zeros(n), rule=rule))
            means = make.one_ahead(n, MARGIN)
            found.append(_design(name, noise, ONE_MARGIN, means, rule={"margin": MARGIN, **rule}))
        for n in ELEMENTS[1:]:
            found.append(_design(name, noise, TIED, make.tied_on_top(n, AHEAD), rule=rule))
            found.append(_design(name, noise, COUPLES, make.couples(n, FAR), rule=rule))
    return [*found, *(_quiet(n) for n in ELEMENTS)]


def _powers() -> list[Design]:
    return [
        _design("normal", make.normal, ONE_AHEAD, make.one_ahead(n, AHEAD), group="power") for n in ELEMENTS
    ]


def _many() -> list[Design]:
    noises = {"normal": make.normal, "one three times as noisy": make.one_noisy, "skewed": make.skewed}
    truths = {ALL_EQUAL: np.zeros, TIED: lambda n: make.tied_on_top(n, AHEAD)}
    return [
        _design(name, noise, truth, means(n), group="many elements")
        for name, noise in noises.items()
        for truth, means in truths.items()
        for n in MANY
    ]


def _plans() -> list[Design]:
    noises = {"normal": make.normal, "one three times as noisy": make.one_noisy}
    levels = [
        _design(f"{name}, at {1 - alpha:.2f}", noise, ALL_EQUAL, np.zeros(n), alpha=alpha, group="plans")
        for name, noise in noises.items()
        for alpha in (0.20, 0.10, 0.01)
        for n in (2, 4, 8)
    ]
    plans = [
        _design(f"{name}, planned {planned}", noise, ALL_EQUAL, np.zeros(n), group="plans", rule=rule)
        for planned in (4, 9)
        for rule in ({"planned": planned},)
        for name, noise in noises.items()
        for n in (2, 4, 8)
    ]
    end = [
        _design(
            f"{name}, one look at the plan", noise, ALL_EQUAL, np.zeros(n), group="plans", rounds=6, rule=END
        )
        for name, noise in noises.items()
        for n in (2, 4, 8)
    ]
    return [*levels, *plans, *end]


END = {"every_round": False}


def _beyond() -> list[Design]:
    unequal: dict[str, Callable[..., Any]] = {
        "one five times as noisy": partial(make.one_noisy, times=5.0),
        "skewed and one twice as noisy": partial(make.skewed_one_noisy, times=2.0),
        "skewed and one three times as noisy": make.skewed_one_noisy,
        "skewed and one five times as noisy": partial(make.skewed_one_noisy, times=5.0),
    }
    drifts = {
        f"drift of {by_place} sd a place, {order} order": partial(
            make.drifting, by_place=by_place, fixed_order=order == "fixed"
        )
        for by_place in (0.1, 0.25, 0.5)
        for order in ("fixed", "random")
    }
    return [
        _design(name, noise, ALL_EQUAL, np.zeros(n), promised=False, group="beyond")
        for noises, sizes in ((unequal, ELEMENTS), (drifts, ELEMENTS[:3]))
        for name, noise in noises.items()
        for n in sizes
    ]


def _with_gaps() -> list[Design]:
    every_second = np.arange(ROUNDS) % 2 == 0
    found = []
    for n in (3, 4, 8):
        first, others = np.ones((n, ROUNDS), dtype=bool), np.ones((n, ROUNDS), dtype=bool)
        first[0] = every_second
        others[1:] = every_second
        others[1] = True
        names = {
            "one three times as noisy, in every second round": (make.one_noisy, first),
            "one equally noisy, in every second round": (make.normal, first),
            "one three times as noisy, most others in every second round": (make.one_noisy, others),
        }
        for name, (noise, present) in names.items():
            found.append(
                _design(name, noise, ALL_EQUAL, np.zeros(n), promised=False, group="gaps", present=present)
            )
    return found


def _strikes() -> list[Design]:
    ways = {
        "at random": strikes.at_random,
        "the worst": strikes.the_worst,
        "for the outcome": strikes.for_the_outcome,
    }
    truths = [(ALL_EQUAL, np.zeros(n)) for n in ELEMENTS[:3]] + [(TIED, make.tied_on_top(4, AHEAD))]
    return [
        _design(
            f"normal, struck {way}", make.normal, truth, means, promised=False, group="strikes", struck=struck
        )
        for way, struck in ways.items()
        for truth, means in truths
    ]


def _design(
    name: str,
    noise: Callable[..., Any],
    truth: str,
    means: Any,
    *,
    alpha: float = PROMISE,
    promised: bool = True,
    rule: dict[str, Any] | None = None,
    rounds: int = ROUNDS,
    **more: Any,
) -> Design:
    def draw(trials: int, seed: int) -> tuple[Any, Any]:
        return noise(means, trials=trials, rounds=rounds, seed=seed), means

    fixed = {"alpha": alpha, "margin": FINE, **(rule or {})}
    return Design(name, len(means), truth, draw, fixed, alpha if promised else None, **more)


def _quiet(elements: int) -> Design:
    def draw(trials: int, seed: int) -> tuple[Any, Any]:
        return make.quiet_coarse_meter(
            elements, trials=trials, rounds=ROUNDS, seed=seed, rf_channels=CHANNELS
        )

    fixed = {"floor": make.rounding_floor(1.0, CHANNELS), "margin": 0.25}
    return Design("quiet coarse meter", elements, "each its own level", draw, fixed)
