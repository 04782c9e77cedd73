"""Repeatability against a regression on indicators, by the textbook's mean squares, and at its edges."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from service.statistics.repeatability import Repeatability, repeatability

QUICK = settings(max_examples=60, deadline=None, database=None, derandomize=True)
SHAPES = st.tuples(st.integers(2, 6), st.integers(2, 7))


def normal(seed: int, *shape: int) -> np.ndarray:
    return np.random.Generator(np.random.Philox(seed)).normal(size=shape)


def regression(scores: np.ndarray) -> tuple[float, int]:
    """Residual sum of squares and degrees of freedom with an indicator for each element and each round."""
    element, round_held = np.nonzero(~np.isnan(scores))
    indicators = np.hstack([np.eye(scores.shape[0])[element], np.eye(scores.shape[1])[round_held]])
    held = scores[element, round_held]
    effects, _, rank, _ = np.linalg.lstsq(indicators, held)
    return float(((held - indicators @ effects) ** 2).sum()), held.size - int(rank)


@QUICK
@given(SHAPES.flatmap(lambda shape: arrays(bool, shape)), st.integers(0, 2**32))
def test_whatever_is_missing_it_is_the_residual_of_a_regression(held, seed):
    """Also where no chain of shared rounds joins all elements, and where rounds hold one run."""
    assume(held.any(axis=1).sum() > 1)
    scores = np.where(held, normal(seed, *held.shape), np.nan)
    squares, freedom = regression(scores)
    result = repeatability(scores)
    if freedom == 0:
        assert result is None
        return
    assert result.degrees_of_freedom == freedom
    assert result.sd == pytest.approx(np.sqrt(squares / freedom), rel=1e-9)
    assert result.limit == pytest.approx(2.8 * result.sd, rel=1e-12)


def test_a_design_whose_information_is_hard_to_invert():
    """Forty elements joined by rounds of two: a chain, the worst conditioned of all connected designs."""
    scores = np.full((40, 80), np.nan)
    for r in range(80):
        scores[[r % 39, r % 39 + 1], r] = normal(r, 2)
    squares, freedom = regression(scores)
    result = repeatability(scores)
    assert result.degrees_of_freedom == freedom == 41
    assert result.sd == pytest.approx(np.sqrt(squares / freedom), rel=1e-9)


@QUICK
@given(SHAPES, st.integers(0, 2**32))
def test_complete_rounds_have_the_intraclass_correlation_of_the_mean_squares(shape, seed):
    scores = normal(seed, *shape) + 3 * normal(seed + 1, shape[0], 1)
    elements, rounds = shape
    left = scores - scores.mean(axis=0) - scores.mean(axis=1, keepdims=True) + scores.mean()
    ems = (left**2).sum() / ((elements - 1) * (rounds - 1))
    bms = rounds * scores.mean(axis=1).var(ddof=1)
    result = repeatability(scores)
    assert result.icc == pytest.approx((bms - ems) / (bms + (rounds - 1) * ems), rel=1e-9)
    assert result.sd**2 == pytest.approx(ems, rel=1e-9)


def test_groups_of_elements_that_no_round_joins_are_fitted_each_by_itself():
    scores = np.full((4, 6), np.nan)
    scores[:2, :3], scores[2:, 3:] = normal(1, 2, 3), normal(2, 2, 3)
    apart = [repeatability(scores[:2, :3]), repeatability(scores[2:, 3:])]
    result = repeatability(scores)
    assert result.degrees_of_freedom == sum(part.degrees_of_freedom for part in apart) == 4
    assert result.sd**2 == pytest.approx(np.mean([part.sd**2 for part in apart]), rel=1e-9)


def test_with_runs_missing_the_correlation_is_hendersons():
    """Sums of squares and the coefficient of the element variance from whole projection matrices."""
    scores = normal(1, 5, 1) + normal(2, 5, 6)
    scores[0, 1:], scores[1, 3:], scores[2, 4] = np.nan, np.nan, np.nan
    element, round_held = np.nonzero(~np.isnan(scores))
    rounds, elements = np.eye(6)[round_held], np.eye(5)[element]
    held = scores[element, round_held]
    beyond_rounds = np.eye(held.size) - rounds @ np.linalg.pinv(rounds)
    n = np.trace(elements.T @ beyond_rounds @ elements) / 4
    left, freedom = regression(scores)
    residual_ms, element_ms = left / freedom, (held @ beyond_rounds @ held - left) / 4
    expected = (element_ms - residual_ms) / (element_ms + (n - 1) * residual_ms)
    assert n < 4
    assert repeatability(scores).icc == pytest.approx(expected, rel=1e-9)


def test_with_runs_missing_the_correlation_still_finds_the_share_of_the_elements():
    """Elements with variance 4 and runs with variance 1: 0.8, whatever a quarter of the runs missing."""
    scores = 2 * normal(1, 400, 1) + normal(2, 400, 8) + 10 * normal(3, 1, 8)
    scores[np.random.Generator(np.random.Philox(4)).random(scores.shape) < 0.25] = np.nan
    result = repeatability(scores)
    assert result.icc == pytest.approx(0.8, abs=0.05)
    assert result.sd == pytest.approx(1.0, abs=0.05)


@QUICK
@given(SHAPES, st.integers(0, 2**32))
def test_round_effects_and_a_common_level_change_nothing(shape, seed):
    scores = normal(seed, *shape)
    moved = repeatability(scores + 50 + 20 * normal(seed + 1, 1, shape[1]))
    still = repeatability(scores)
    assert (moved.sd, moved.icc) == pytest.approx((still.sd, still.icc), rel=1e-7)


def test_one_element_has_the_standard_deviation_over_its_rounds():
    scores = normal(1, 1, 7)
    result = repeatability(scores)
    assert result == Repeatability(pytest.approx(scores.std(ddof=1)), pytest.approx(2.8 * result.sd), 6, None)


def test_elements_and_rounds_without_a_run_are_passed_over():
    scores = np.full((3, 9), np.nan)
    scores[1, [0, 2, 5]] = [1.0, 2.0, 4.0]
    assert repeatability(scores) == repeatability([[1.0, 2.0, 4.0]])


def test_what_rounding_leaves_of_no_noise_is_no_noise():
    scores = np.array([[0.1], [0.2], [0.7]]) + np.array([0.1, 0.2, 0.3, 0.6])
    assert repeatability(scores) == Repeatability(0.0, 0.0, 6, 1.0)


def test_where_nothing_varies_there_is_no_correlation():
    assert repeatability(np.full((3, 4), 0.1 + 0.2)) == Repeatability(0.0, 0.0, 6, None)


def test_elements_that_never_share_a_round_have_no_correlation():
    scores = np.full((2, 4), np.nan)
    scores[0, :2], scores[1, 2:] = [1.0, 2.0], [3.0, 5.0]
    assert repeatability(scores) is None


@pytest.mark.parametrize(
    "scores", [[[1.0]], [[1.0], [2.0]], [[np.nan, np.nan]], np.zeros((0, 0)), np.zeros((3, 0))]
)
def test_without_a_degree_of_freedom_there_is_none(scores):
    assert repeatability(scores) is None


@pytest.mark.parametrize("wrong", [[1.0, 2.0], [[1.0, np.inf], [2.0, 3.0]]])
def test_other_input_is_refused(wrong):
    with pytest.raises(ValueError, match=r"dimensions given|finite"):
        repeatability(wrong)
