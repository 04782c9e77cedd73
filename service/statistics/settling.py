"""How likely the rounds still to come settle a trial under way, given the rounds there are."""

from dataclasses import dataclass

import numpy as np

from service.statistics.bell_reference import Store
from service.statistics.known_noise import BELOW_ROUNDS
from service.statistics.least_squares import fit
from service.statistics.results import NEEDS_MORE_RUNS, Flags, Floats, KnownNoise, Repeats, Rule
from service.statistics.rounds_needed import Noise, chances_settled, trials_of_a_chance
from service.statistics.standing import standing_trial
from service.statistics.trial_looks import TrialLooks

SETTLED, NO_NOISE, TOO_FEW_RUNS = "settled", "no noise", "too few runs"


@dataclass(frozen=True)
class Settling:
    """The outcome that stands, and the chance that any stands after each round to come, (rounds,).

    `why` tells why no chances are told: "settled" already; "no noise": nothing tells how far runs scatter;
    "too few runs": of some element. None where they are, from so many `trials`.
    """

    outcome: str
    chances: Floats
    trials: int
    why: str | None


def settling(
    scores: Floats,
    rule: Rule,
    *,
    competing: Flags,
    store: Store,
    known: KnownNoise | None = None,
    repeats: Repeats | None = None,
    rounds: int,
) -> Settling:
    """Judge the rounds there are and continue them with simulated ones, see `chances_settled`.

    The noise and the element means are drawn from their uncertainty, so this is the chance before the truth
    is known, not the power at some difference. A trial that is settled either way, by a winner or within
    noise, counts alike. rounds >= 1; the other arguments are those of `judge`.
    """
    looks = TrialLooks(scores, rule, store=store, known=known, repeats=repeats, competing=competing)
    outcome = standing_trial(looks, competing).outcome
    noise = _noise(scores, known)
    why = None
    if outcome != NEEDS_MORE_RUNS:
        why = SETTLED
    elif not looks.joined(looks.rounds).all():
        why = TOO_FEW_RUNS
    elif not noise.degrees_of_freedom or noise.squares <= looks.setting.tol**2 * noise.degrees_of_freedom:
        why = NO_NOISE
    if why is not None:
        return Settling(outcome, np.zeros(0), 0, why)
    chances = chances_settled(
        scores, noise, competing=competing, margin=rule.margin, setting=looks.setting, rounds=rounds
    )
    return Settling(outcome, chances, trials_of_a_chance(len(scores), looks.rounds + rounds), None)


def _noise(scores: Floats, known: KnownNoise | None) -> Noise:
    """What the verdict takes for the noise: the residuals; below 3 rounds with the known noise."""
    fitted = fit(scores)
    squares, freedom = fitted.residual_ss, float(fitted.degrees_of_freedom)
    if known and scores.shape[1] < BELOW_ROUNDS:
        squares += known.sd**2 * known.degrees_of_freedom
        freedom += known.degrees_of_freedom
    return Noise(squares, freedom)
