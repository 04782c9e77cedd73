"""How likely the rounds still to come settle a trial under way, given the rounds there are."""

from dataclasses import dataclass

import numpy as np

from service.statistics.bell_reference import Store
from service.statistics.results import NEEDS_MORE_RUNS, Flags, Floats, KnownNoise, Repeats, Rule
from service.statistics.rounds_needed import chances_settled, trials_of_a_chance
from service.statistics.standing import standing_trial
from service.statistics.trial_looks import TrialLooks
from service.statistics.trial_noise import trial_noise

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
    if outcome != NEEDS_MORE_RUNS:
        return _untold(outcome, SETTLED)
    if not looks.joined(looks.rounds).all():
        return _untold(outcome, TOO_FEW_RUNS)
    noise = trial_noise(looks)
    if noise is None or noise.squares <= looks.setting.tol**2 * noise.degrees_of_freedom:
        return _untold(outcome, NO_NOISE)
    chances = chances_settled(
        scores, noise, competing=competing, margin=rule.margin, setting=looks.setting, rounds=rounds
    )
    return Settling(outcome, chances, trials_of_a_chance(len(scores), looks.rounds + rounds), None)


def _untold(outcome: str, why: str) -> Settling:
    return Settling(outcome, np.zeros(0), 0, why)
