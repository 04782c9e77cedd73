"""The frozen results that the decision rule hands out, and the rule's own fixed numbers."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

CLEAR_WINNER = "clear winner"
WITHIN_NOISE = "within noise"
NEEDS_MORE_RUNS = "needs more runs"


@dataclass(frozen=True)
class Rule:
    """What is fixed before the readings are seen.

    planned: rounds planned. alpha: 1 - confidence. every_round: a look after every round, else at the
    planned end. margin: smallest difference that matters, in score units. floor: variance q^2 / (6 M) that
    rounding to steps of q leaves in a difference of scores over M RF channels. seed: of shuffles and draws.
    """

    planned: int
    alpha: float
    every_round: bool
    margin: float
    floor: float
    seed: int


@dataclass(frozen=True)
class KnownNoise:
    """A repeatability standard deviation of one mounting's score, known from elsewhere, and its freedom."""

    sd: float
    degrees_of_freedom: float


@dataclass(frozen=True)
class Repeats:
    """Scores of single mountings: element and round are 0-based indices, all three of shape (mountings,)."""

    element: NDArray[np.int64]
    round: NDArray[np.int64]
    score: Floats


@dataclass(frozen=True)
class Look:
    """One look of the schedule: error spent up to it, its own level, its critical values.

    A look by a known noise has half of the error; what is spent at the others is of the half that is left.

    critical is for the table of pairs, leader_critical for the question who leads; both null for two
    elements, where order is the m of the m-th smallest and largest mean of a subset.
    """

    round: int
    spent: float
    level: float
    critical: float | None = None
    leader_critical: float | None = None
    order: int | None = None


@dataclass(frozen=True)
class Against:
    """The leader against one other element: leader's score minus the element's."""

    element: int
    difference: float | None
    low: float | None
    high: float | None
    outcome: str


@dataclass(frozen=True)
class LookTaken:
    """One look of the leader's question: who led, the rival whose interval reached lowest, the outcome.

    The outcome is the trial's, by this look alone; it takes all rivals into account.
    """

    round: int
    leader: int
    nearest: Against
    outcome: str


@dataclass(frozen=True)
class PairJudgement:
    """Two elements compared: difference is first minus second; outcome and winner are those that stand."""

    first: int
    second: int
    difference: float | None
    standard_error: float | None
    statistic: float | None
    low: float | None
    high: float | None
    p_value: float | None
    adjusted_p: float | None
    present_outcome: str
    outcome: str
    winner: int | None
    decided_at: int | None
    more_rounds: int | None


@dataclass(frozen=True)
class Criticals:
    """Critical values of the present look, null where there is none."""

    shuffled: float | None = None
    bell_shaped: float | None = None
    leader: float | None = None


@dataclass(frozen=True)
class RoundsNeeded:
    """How many more rounds: half of the continued trials are decided by `half`, four fifths by `safe`."""

    half: int | None
    safe: int | None
    pairs: tuple[int | None, ...]
    too_fine: bool


@dataclass(frozen=True)
class Judgement:
    """All that the rule says of one trial. Rounds are 1-based, elements 0-based.

    leading: the present leader and those it does not clearly beat; decided_among: the same at the look whose
    decision stands, empty where none does.
    """

    scores: Floats
    judged: Flags
    leader: int | None
    outcome: str
    winner: int | None
    decided_at: int | None
    present_outcome: str
    against: tuple[Against, ...]
    leading: tuple[int, ...]
    decided_among: tuple[int, ...]
    pairs: tuple[PairJudgement, ...]
    more_rounds: int | None
    more_rounds_safe: int | None
    too_fine: bool
    fewest_rounds: int | None
    schedule: tuple[Look, ...]
    taken: tuple[LookTaken, ...]
    this_look: Look | None
    critical: Criticals
    enumerated: bool
    permutations: int
    bell_draws: int
    residual_variance: float | None
    residual_df: float | None
    design: str
