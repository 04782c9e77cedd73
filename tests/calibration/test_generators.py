"""The simulated trials are what they say they are, and the same for the same seed."""

import numpy as np
import pytest

from .generators import (
    NOISES,
    coarse_meter,
    one_ahead,
    one_noisy,
    outliers,
    quiet_coarse_meter,
    rounding_floor,
    skewed,
    skewed_one_noisy,
    tied_on_top,
)

TRIALS = {"trials": 4_000, "rounds": 6}


@pytest.mark.parametrize("name", NOISES)
def test_same_seed_gives_the_same_trials_and_another_seed_others(name):
    first = NOISES[name]([0.0, 1.0, 1.0], **TRIALS, seed=3)
    assert first.shape == (4_000, 3, 6)
    np.testing.assert_array_equal(first, NOISES[name]([0.0, 1.0, 1.0], **TRIALS, seed=3))
    assert not np.array_equal(first, NOISES[name]([0.0, 1.0, 1.0], **TRIALS, seed=4))


@pytest.mark.parametrize("name", sorted(set(NOISES) - {"coarse meter", "outliers", "one noisy"}))
def test_noise_has_unit_standard_deviation_about_the_means(name):
    scores = NOISES[name]([0.0, 5.0, -2.0], **TRIALS, seed=5)
    np.testing.assert_allclose(scores.mean(axis=(0, 2)), [0.0, 5.0, -2.0], atol=0.03)
    np.testing.assert_allclose(scores.std(axis=(0, 2)), 1.0, atol=0.12)


def test_the_noisy_element_is_the_first():
    for generate in (one_noisy, skewed_one_noisy):
        spread = generate(np.zeros(3), **TRIALS, seed=6, times=5.0).std(axis=(0, 2))
        np.testing.assert_allclose(spread, [5.0, 1.0, 1.0], rtol=0.05)


def test_skewed_noise_has_its_tail_above():
    noise = skewed(np.zeros(2), **TRIALS, seed=7)
    assert np.mean(noise**3) > 1.5


def test_outliers_are_as_many_as_asked():
    low = outliers(np.zeros(2), **TRIALS, seed=8, share=0.1, size=20.0) < -10.0
    assert low.mean() == pytest.approx(0.1, abs=0.01)


def test_coarse_readings_lie_on_steps_and_keep_equal_elements_equal():
    scores = coarse_meter([0.0, 0.0], **TRIALS, seed=9, step=0.5)
    np.testing.assert_array_equal(scores, np.round(scores / 0.5) * 0.5)
    assert abs(np.mean(scores[:, 0] - scores[:, 1])) < 0.04


def test_rounding_of_a_quiet_meter_does_not_average_out_over_rounds():
    """The error of a difference over ten rounds keeps the variance of one rounding, step^2/(6 M)."""
    scores, truth = quiet_coarse_meter(2, trials=20_000, rounds=10, seed=10, step=2.0, rf_channels=4, sd=0.01)
    errors = (scores[:, 0] - scores[:, 1]).mean(axis=1) - (truth[:, 0] - truth[:, 1])
    assert errors.var() == pytest.approx(rounding_floor(2.0, 4), rel=0.05)


def test_mean_patterns():
    assert tied_on_top(4, 3).tolist() == [0.0, 0.0, -3.0, -3.0]
    assert one_ahead(3, 2.5).tolist() == [2.5, 0.0, 0.0]
