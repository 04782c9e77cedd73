"""Looking after every round without raising the false alarm rate: error spent, critical values, levels.

A rule of (elements, rounds, planned rounds, alpha) alone: nobody can tune it to the readings. Error
spending after Lan and DeMets (1983), Discrete sequential boundaries for clinical trials, Biometrika 70,
659-663; the power family with exponent 2 after Kim and DeMets (1987), Biometrika 74, 149-154.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from service.statistics.results import Flags, Floats
from service.statistics.sign_flip import DRAWS, EXACT_UP_TO

TO_THE_PLAN = 0.8  # of alpha may be spent up to the planned end, the rest beyond it
FEWEST_ROUNDS = 3
FEWEST_FREEDOM = 4


@dataclass(frozen=True)
class Plan:
    """Planned rounds, alpha, and whether there is a look after every round or only at the planned end."""

    planned: int
    alpha: float
    every_round: bool

    def is_look(self, elements: int, rounds: int) -> bool:
        """Whether a verdict may be reached after this many rounds."""
        enough = rounds >= FEWEST_ROUNDS and (elements - 1) * (rounds - 1) >= FEWEST_FREEDOM
        return enough and (self.every_round or rounds >= self.planned)

    def spent(self, rounds: int, *, elements: int) -> float:
        """Error that may be spent up to this round.

        After every round: 0.8 alpha (R/P)^2 to the plan, alpha (0.8 + 0.2 (1 - P/R)) beyond it. At the
        planned end: alpha at P; beyond it the same as above for three or more elements, which counts the
        planned end at 0.8 alpha, and alpha (1 + 0.2 (1 - P/R)) for two.
        """
        beyond = (1.0 - TO_THE_PLAN) * (1.0 - self.planned / rounds)
        if rounds > self.planned:
            base = 1.0 if not self.every_round and elements == 2 else TO_THE_PLAN
            return self.alpha * (base + beyond)
        if not self.every_round:
            return self.alpha if rounds == self.planned else 0.0
        return self.alpha * TO_THE_PLAN * (rounds / self.planned) ** 2

    def counted(self, rounds: int, *, elements: int) -> float:
        """Error counted as spent when later looks are set: the planned end of three or more at 0.8 alpha."""
        at_end = not self.every_round and rounds == self.planned and elements > 2
        return TO_THE_PLAN * self.alpha if at_end else self.spent(rounds, elements=elements)


class Boundary:
    """Critical values look by look, from draws that are followed through all looks.

    Holds which of the draws have crossed. Order statistics only: with N = floor(spent B) less those that
    crossed before, the critical value is the (N + 1)-th largest among the others; crossing is strictly above.
    """

    def __init__(self, draws: int):
        self.crossed: Flags = np.zeros(draws, dtype=np.bool_)

    def look(self, statistic: Floats, *, spent: float, counted: float) -> tuple[float, float]:
        """Critical value of this look and the share of all draws above it; statistic: (draws,)."""
        critical = self._critical(statistic, spent)
        level = float((statistic > critical).mean())
        crossing = critical if counted == spent else self._critical(statistic, counted)
        self.crossed |= statistic > crossing
        return critical, level

    def _critical(self, statistic: Floats, spent: float) -> float:
        others = statistic[~self.crossed]
        left = whole(spent * len(statistic)) - int(self.crossed.sum())
        return float(np.partition(others, len(others) - left - 1)[len(others) - left - 1])


class Steps:
    """Two elements: whole steps of the sign-flip distribution, from draws of the t statistic."""

    def __init__(self, draws: int):
        self.crossed: Flags = np.zeros(draws, dtype=np.bool_)

    def look(self, statistic: Floats, *, rounds: int, spent: float) -> int:
        """The largest order m whose 2m of 2^R (2m of 20 000 above 16 rounds) stays within the spending.

        Draws that crossed before count, and those among the 2m/2^R largest here; m grows from 1 and stops at
        the first that does not fit. 0: no look. statistic: (draws,).
        """
        draws, cells = len(statistic), step_cells(rounds)
        falling = np.argsort(-statistic, kind="stable")
        new = np.concatenate([[0], np.cumsum(~self.crossed[falling])])
        orders = np.arange(1, whole(spent * cells / 2) + 1)
        among = np.floor(2.0 * orders / cells * draws + 1e-9).astype(np.int64)
        fits = self.crossed.sum() + new[among] <= whole(spent * draws)
        order = int(np.argmin(np.append(fits, False)))
        if order:
            self.crossed[falling[: among[order - 1]]] = True
        return order


def step_cells(rounds: int) -> int:
    """Equally likely cells of the sign-flip distribution: 2^R, 20 000 drawn ones above 16 rounds."""
    return 2**rounds if rounds <= EXACT_UP_TO else DRAWS + 1


def whole(number: float) -> int:
    """The whole part, where a sum that should be whole and comes out a hair below still counts as whole."""
    return int(np.floor(number + 1e-9))


def look_rounds(plan: Plan, elements: int, rounds: int) -> Iterator[int]:
    """The rounds up to this one after which there is a look."""
    return (r for r in range(1, rounds + 1) if plan.is_look(elements, r))
