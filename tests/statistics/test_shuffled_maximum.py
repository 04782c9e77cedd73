"""Shuffled maxima: all arrangements against drawn ones, critical places, incomplete rounds."""

import numpy as np
import pytest

from service.statistics.least_squares import fit
from service.statistics.shuffled_maximum import (
    ShuffledMaximum,
    arrangement_count,
    critical_place,
    shuffled_maximum,
)


def residuals(elements, rounds, seed=1):
    return fit(np.random.default_rng(seed).normal(size=(elements, rounds))).residuals


def test_numbers_of_arrangements():
    assert [arrangement_count(*size) for size in ((3, 5), (3, 6), (4, 3), (64, 6))] == [
        7776,
        19_999,
        13_824,
        1_999,
    ]


def test_drawn_maxima_have_the_law_of_all_arrangements():
    """Five rounds of three are enumerated; a sixth round of zeros adds nothing but makes them drawn."""
    left = residuals(3, 5)
    every = shuffled_maximum(left, floor=0.0, seed=1)
    drawn = shuffled_maximum(np.column_stack([left, np.zeros(3)]), floor=0.0, seed=1)
    assert (every.enumerated, drawn.enumerated) == (True, False)
    at = np.quantile(drawn.maxima, [0.2, 0.5, 0.9])
    # the extra round changes every T by one factor: compare the maxima scaled to the same median
    scale = np.median(every.maxima) / np.median(drawn.maxima)
    shares = [(every.maxima <= scale * value).mean() for value in at]
    assert shares == pytest.approx([0.2, 0.5, 0.9], abs=0.05)


def test_critical_value_is_the_place_named():
    shuffled = ShuffledMaximum(np.arange(1.0, 1000.0), enumerated=False)
    assert critical_place(999, 0.05) == 950
    assert shuffled.critical(0.05) == 950.0
    assert shuffled.critical(0.001) == 999.0
    assert np.isinf(shuffled.critical(0.0009))


def test_shares_count_ties_and_add_one():
    shuffled = ShuffledMaximum(np.array([1.0, 2.0, 2.0, 3.0]), enumerated=True)
    assert shuffled.share(np.array([2.0, 3.5, 0.0])).tolist() == [4 / 5, 1 / 5, 1.0]


def test_another_seed_draws_others_and_the_same_seed_the_same():
    left = residuals(4, 6)
    one, again, other = (shuffled_maximum(left, floor=0.0, seed=seed).maxima for seed in (1, 1, 2))
    assert np.array_equal(one, again)
    assert not np.array_equal(one, other)


def test_missing_runs_are_shuffled_among_those_present():
    scores = np.random.default_rng(4).normal(size=(4, 6))
    scores[0, 2] = scores[1, 2] = np.nan
    shuffled = shuffled_maximum(fit(scores).residuals, floor=0.0, seed=1)
    assert len(shuffled.maxima) == 19_999
    assert np.isfinite(shuffled.maxima).all()


def test_the_floor_holds_in_every_arrangement():
    left = residuals(3, 4) * 1e-3
    bounded = shuffled_maximum(left, floor=1.0, seed=1)
    assert bounded.maxima.max() <= np.abs(left).max() * 2


def test_what_rounding_leaves_of_an_additive_table_is_no_noise():
    """Rows and columns of decimals that are not exact in binary: the residuals are dust, not 0."""
    scores = np.add.outer([2.9, 8.9, 2.9, 7.1], [7.8, 3.5, 3.9, 3.4])
    left = fit(scores).residuals
    assert np.abs(left).max() > 0
    assert shuffled_maximum(left, floor=0.0, seed=1).maxima.max() > 0
    clean = shuffled_maximum(left, floor=0.0, seed=1, tol=1e-9)
    assert clean.maxima.max() == 0.0
    assert clean.share(np.array([np.inf])) == 1 / 20_000
