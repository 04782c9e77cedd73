"""What the rule was designed to, met by simulation with fixed seeds: power, and the rates as first measured.

The figures are those of the simulation the rule was designed by, made before and apart from this code.
"""

import numpy as np
import pytest

from service.statistics.results import CLEAR_WINNER
from service.statistics.standing import standing_pairs, standing_trial
from tests.calibration import generators as make
from tests.calibration.rates import agrees, by_the_rule, rates, rule

DESIGNED_BY = 5_000  # trials behind those figures, taken as this many


@pytest.mark.parametrize(("elements", "power"), [(3, 0.89), (4, 0.87), (8, 0.75)])
def test_a_winner_three_sd_ahead_is_named_by_the_planned_round(elements, power):
    means = make.one_ahead(elements, 3.0)
    found = rates(make.normal(means, trials=2_000, rounds=6, seed=40 + elements), means, rule())
    assert agrees(found.named_by_plan, 2_000, round(power * DESIGNED_BY), DESIGNED_BY)


def test_what_is_said_in_the_end_was_said_at_some_look():
    """Errors are counted at every look, so that no fewer can stand in the end."""
    means, fixed = make.tied_on_top(3, 3.0), rule(alpha=0.2)
    scores = make.normal(means, trials=60, rounds=8, seed=3)
    wrong = 0
    for one in scores:
        looks = by_the_rule(one, fixed)
        pairs, trial = standing_pairs(looks), standing_trial(looks, np.ones(3, dtype=bool))
        found = rates(one[None], means, fixed)
        assert found.false_calls >= (pairs.outcome[0] == CLEAR_WINNER)
        assert found.false_winners >= (trial.outcome == CLEAR_WINNER)
        wrong += trial.outcome == CLEAR_WINNER
    assert wrong
