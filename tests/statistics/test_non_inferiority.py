"""Checks against a baseline: when they may speak, what they say, and how often they are wrong."""

import numpy as np
import pytest
from scipy import stats

from service.statistics.non_inferiority import FALLS_SHORT, HOLDS, paired_checks
from service.statistics.results import NEEDS_MORE_RUNS, Rule
from service.statistics.sign_flip import one_sided_p
from tests.shared_references import STORE


def checks(differences, **changes):
    fixed = {"planned": 6, "alpha": 0.05, "every_round": True, "margin": 1.0, "floor": 0.0, "seed": 1}
    return paired_checks(np.atleast_2d(differences), Rule(**fixed | changes), store=STORE)


def steady(level, rounds, sd=0.1):
    return level + sd * np.resize([1.0, -1.0, 0.5, -0.5, 0.8, -0.7], rounds)


@pytest.mark.parametrize(("rounds", "outcome"), [(5, NEEDS_MORE_RUNS), (6, HOLDS)])
def test_looking_after_every_round_the_sixth_is_the_first_that_may_speak(rounds, outcome):
    (found,) = checks(steady(0.0, rounds))
    assert found.outcome == outcome
    assert np.isfinite(found.low) == (outcome == HOLDS)


def test_at_the_planned_end_five_rounds_may_speak():
    (found,) = checks(steady(0.0, 5), planned=5, every_round=False)
    assert (found.outcome, found.decided_at) == (HOLDS, 5)


def test_worse_than_the_margin_falls_short():
    (found,) = checks(steady(-1.5, 8))
    assert found.outcome == FALLS_SHORT
    assert found.high < -1.0


def test_exactly_at_the_margin_neither_holds_nor_falls_short():
    (found,) = checks(np.full(12, -1.0))
    assert found.outcome == NEEDS_MORE_RUNS


def test_a_decision_stands_when_later_rounds_blur_it():
    row = np.concatenate([steady(0.0, 6), [-9.0, 9.0, -9.0, 9.0]])
    (found,) = checks(row)
    assert (found.outcome, found.decided_at) == (HOLDS, 6)
    assert found.low < -1.0


def test_a_later_look_that_decides_otherwise_counts():
    row = np.concatenate([steady(0.0, 6), np.full(30, -6.0) + steady(0.0, 30)])
    (found,) = checks(row)
    assert found.outcome == FALLS_SHORT
    assert found.decided_at > 6


def test_after_the_first_that_does_not_hold_none_holds():
    """At six rounds one candidate alone holds; three share the error, and the level is too fine."""
    row = steady(0.0, 6)
    assert checks(row)[0].outcome == HOLDS
    assert {one.outcome for one in checks([row, row, row])} == {NEEDS_MORE_RUNS}
    assert checks([row, row, row])[0].level == pytest.approx(1 - 0.05 / 3)
    later = [steady(0.0, 9)] * 2 + [steady(-1.0, 9, sd=2.0)]
    assert [one.outcome for one in checks(later)] == [HOLDS, HOLDS, NEEDS_MORE_RUNS]


def test_a_round_that_a_candidate_sat_out_is_no_look_for_it():
    row = np.insert(steady(0.0, 6), 3, np.nan)
    (found,) = checks(row)
    assert (found.outcome, found.rounds, found.decided_at) == (HOLDS, 6, 7)


def test_without_a_shared_round_nothing_is_known():
    found = checks(np.array([steady(0.0, 7), np.full(7, np.nan)]))[1]
    assert (found.outcome, found.rounds, found.p_value) == (NEEDS_MORE_RUNS, 0, None)
    assert np.isnan(found.difference)


def test_rounding_of_a_quiet_meter_reaches_beyond_the_readings():
    quiet = checks(np.full(8, -0.9), floor=0.04)[0]
    assert quiet.outcome == NEEDS_MORE_RUNS
    assert quiet.low == pytest.approx(-0.9 - 0.4)
    assert checks(np.full(8, -0.9))[0].outcome == HOLDS


@pytest.mark.parametrize("differences", [np.zeros(4), np.array([[1.0, np.inf]])])
def test_wrong_shapes_are_refused(differences):
    with pytest.raises(ValueError, match="of shape"):
        paired_checks(differences, Rule(6, 0.05, True, 1.0, 0.0, 1), store=STORE)


@pytest.mark.parametrize("rounds", [5, 12])
def test_one_sided_p_is_that_of_scipy(rounds):
    values = np.random.default_rng(rounds).normal(0.4, 1, rounds)
    reference = stats.permutation_test(
        (values,), np.mean, permutation_type="samples", alternative="greater", n_resamples=np.inf
    )
    assert one_sided_p(values, seed=1) == pytest.approx(reference.pvalue, rel=1e-12)


def test_drawn_flips_come_near_the_normal_limit():
    values = np.random.default_rng(3).normal(0.3, 1, 40)
    z = values.sum() / np.sqrt((values**2).sum())
    assert one_sided_p(values, seed=1) == pytest.approx(stats.norm.sf(z), abs=0.01)


@pytest.mark.parametrize("candidates", [1, 3])
def test_one_margin_worse_holds_no_oftener_than_promised(candidates):
    draw = np.random.default_rng(candidates)
    trials = 500
    wrong = 0
    for _ in range(trials):
        differences = draw.normal(size=(candidates, 12)) - draw.normal(size=12) - 1.0
        wrong += any(one.outcome == HOLDS for one in checks(differences))
    assert wrong <= stats.binom.ppf(0.999, trials, 0.05)
