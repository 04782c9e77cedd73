"""The promised error rates, by simulation: a slice with fixed seeds.

Each design is looked at after every round to twice the plan. An error may be counted no oftener than the
99.9 % binomial upper bound of what is promised (0.05). The power figures are those the rule was designed to
(own simulation), met two-sided.
"""

import numpy as np
import pytest

from tests.calibration import generators as make
from tests.calibration.rates import most_allowed, rates, rule

TRIALS = 300
ROUNDS = 12
SIZE = {"trials": TRIALS, "rounds": ROUNDS}
PROMISE = 0.05


@pytest.mark.parametrize("elements", [2, 4, 8])
@pytest.mark.parametrize("noise", ["normal", "one noisy", "heavy-tailed", "coarse meter"])
def test_equal_elements_are_seldom_called_different(noise, elements):
    means = np.zeros(elements)
    found = rates(make.NOISES[noise](means, **SIZE, seed=elements), means, rule())
    assert found.false_calls <= most_allowed(PROMISE, TRIALS)
    assert found.false_winners <= most_allowed(PROMISE, TRIALS)


@pytest.mark.parametrize("elements", [4, 8])
@pytest.mark.parametrize("noise", ["normal", "one noisy"])
def test_two_tied_on_top_seldom_give_a_winner(noise, elements):
    means = make.tied_on_top(elements, 3.0)
    found = rates(make.NOISES[noise](means, **SIZE, seed=10 + elements), means, rule())
    assert found.false_winners <= most_allowed(PROMISE, TRIALS)


@pytest.mark.parametrize("elements", [2, 4, 8])
def test_rounding_of_a_quiet_meter_is_not_taken_for_a_difference(elements):
    channels = 12
    scores, means = make.quiet_coarse_meter(elements, **SIZE, seed=20 + elements, rf_channels=channels)
    fixed = rule(floor=make.rounding_floor(1.0, channels), margin=0.25)
    found = rates(scores, means, fixed)
    assert found.false_calls <= most_allowed(PROMISE, TRIALS)
    assert found.false_within <= most_allowed(PROMISE, TRIALS)


@pytest.mark.parametrize("elements", [2, 4])
def test_a_difference_of_one_margin_is_seldom_called_within_noise(elements):
    means = make.one_ahead(elements, 2.5)
    found = rates(make.normal(means, **SIZE, seed=30 + elements), means, rule(margin=2.5))
    assert found.false_within <= most_allowed(PROMISE, TRIALS)


@pytest.mark.parametrize(("elements", "power"), [(3, 0.89), (4, 0.87), (8, 0.75)])
def test_a_winner_three_sd_ahead_is_named_by_the_planned_round(elements, power):
    means = make.one_ahead(elements, 3.0)
    found = rates(make.normal(means, trials=TRIALS, rounds=6, seed=40 + elements), means, rule())
    allowed = 4 * np.sqrt(power * (1 - power) / TRIALS)
    assert found.winners / TRIALS == pytest.approx(power, abs=allowed)
