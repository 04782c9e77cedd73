"""The trend over trials: against statsmodels and scipy, and what must not change it."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from service.statistics.trend_over_trials import BETWEEN, ROUNDING, WITHIN, trend_over_trials

DAYS = np.array([0.0, 61.0, 200.0, 388.0, 730.0])
EXACT = 1e-12


@pytest.fixture(scope="module")
def sm():
    """The reference library; the tests of this room also run where numpy and scipy are alone."""
    return pytest.importorskip("statsmodels.api")


def rounds(means, counts=(6, 4, 8, 3, 5), *, sd=0.01, seed=1):
    """Rounds of each trial with exactly these means."""
    stream = np.random.default_rng(seed)
    drawn = [sd * stream.normal(size=count) for count in counts]
    return [mean + one - one.mean() for mean, one in zip(means, drawn, strict=False)]


def numbers(found):
    return [value for value in dataclasses.astuple(found) if isinstance(value, float)]


def test_between_trials_it_is_the_least_squares_of_statsmodels(sm):
    means = [0.3, -0.1, 0.2, -0.9, -0.7]
    found = trend_over_trials(DAYS, rounds(means), level=0.95, along=[0.0, 100.0, 730.0])
    fitted = sm.OLS(means, sm.add_constant(DAYS)).fit()
    assert found.rests_on == BETWEEN
    assert found.slope == pytest.approx(fitted.params[1], rel=EXACT)
    assert (found.low, found.high) == pytest.approx(tuple(fitted.conf_int(0.05)[1]), rel=1e-10)
    assert found.p_value == pytest.approx(fitted.pvalues[1], rel=1e-9)
    assert found.between_sd == pytest.approx(np.sqrt(fitted.mse_resid), rel=EXACT)
    assert found.between_df == fitted.df_resid
    places = sm.add_constant(np.array([0.0, 100.0, 730.0]))
    expected = fitted.get_prediction(places).summary_frame(alpha=0.05)
    line = np.array([dataclasses.astuple(at) for at in found.line])
    assert line == pytest.approx(expected[["mean", "mean_ci_lower", "mean_ci_upper"]].to_numpy(), rel=1e-9)


def test_between_trials_at_another_level(sm):
    means = [0.3, -0.1, 0.2, -0.9, -0.7]
    found = trend_over_trials(DAYS, rounds(means), level=0.80)
    expected = sm.OLS(means, sm.add_constant(DAYS)).fit().conf_int(0.20)[1]
    assert (found.low, found.high) == pytest.approx(tuple(expected), rel=1e-10)


def test_within_trials_the_ends_alone_make_welchs_interval_of_scipy():
    """Of three evenly dated trials the slope is that of the outer two, whose interval is Welch's."""
    trials = rounds([1.0, 0.5, 0.0], (4, 7, 9), sd=1.0)
    found = trend_over_trials([0.0, 1.0, 2.0], trials, level=0.95)
    expected = stats.ttest_ind(trials[2], trials[0], equal_var=False)
    ends = expected.confidence_interval(0.95)
    assert found.rests_on == WITHIN
    assert found.between_sd == 0.0
    assert (2 * found.low, 2 * found.high) == pytest.approx((ends.low, ends.high), rel=1e-10)
    assert found.within_df == pytest.approx(expected.df, rel=EXACT)
    assert found.p_value == pytest.approx(expected.pvalue, rel=1e-9)


def test_the_interval_is_never_narrower_than_that_of_either_noise(sm):
    for seed in range(40):
        trials = [np.random.default_rng(seed).normal(size=count) for count in (3, 12, 5, 3)]
        found = trend_over_trials([0.0, 1.0, 5.0, 6.0], trials, level=0.95)
        means = [one.mean() for one in trials]
        low, high = sm.OLS(means, sm.add_constant(np.array([0.0, 1.0, 5.0, 6.0]))).fit().conf_int()[1]
        within = stats.t.ppf(0.975, found.within_df) * found.within_error
        half = (found.high - found.low) / 2
        assert half == pytest.approx(max((high - low) / 2, within), rel=1e-9)


def test_the_p_value_falls_below_alpha_just_where_the_interval_leaves_out_zero():
    decided = set()
    for seed in range(60):
        stream = np.random.default_rng(seed)
        trials = [stream.normal(0.6 * place, 1.0, size=6) for place in range(5)]
        found = trend_over_trials(np.arange(5.0), trials, level=0.95)
        decided.add(found.low > 0)
        assert (found.p_value < 0.05) == (found.low > 0 or found.high < 0)
    assert decided == {True, False}


def test_a_quiet_meter_reaches_as_far_as_its_step():
    step = 1.0
    trials = [np.full(4, value) for value in (3.0, 3.0, 2.0)]
    found = trend_over_trials([0.0, 1.0, 2.0], trials, level=0.80, floors=[step**2] * 3)
    assert found.rests_on == ROUNDING
    assert found.p_value is None
    assert (found.high - found.low) / 2 == pytest.approx(2 * np.sqrt(2 * 0.25 * step**2))


def test_where_nothing_varies_there_are_no_ends():
    found = trend_over_trials([0.0, 1.0, 2.0], [np.full(3, 1.0)] * 3, level=0.95, along=[0.0])
    assert found.slope == 0.0
    assert np.isnan([found.low, found.high, found.line[0].low]).all()
    assert (found.p_value, found.within_df, found.line[0].value) == (None, None, 1.0)


@pytest.mark.parametrize(
    ("days", "counts"), [([0.0, 1.0], (3, 3)), ([0.0, 1.0, 2.0], (3, 1, 3)), ([5.0, 5.0, 5.0], (3, 3, 3))]
)
def test_too_little_gives_nothing(days, counts):
    assert trend_over_trials(days, [np.arange(float(n)) for n in counts], level=0.95) is None


def test_what_does_not_fit_together_is_refused():
    with pytest.raises(ValueError, match="3 values of x, 2 trials and 2 floors"):
        trend_over_trials([0.0, 1.0, 2.0], [np.zeros(3)] * 2, level=0.95)
    with pytest.raises(ValueError, match="finite"):
        trend_over_trials([0.0, 1.0, np.nan], [np.zeros(3)] * 3, level=0.95)


TRIALS = st.lists(
    st.lists(st.floats(-5, 5).map(lambda value: round(value, 3)), min_size=2, max_size=5).map(np.array),
    min_size=3,
    max_size=6,
)


@given(TRIALS, st.floats(-1e4, 1e4), st.randoms(use_true_random=False))
def test_neither_a_shift_of_all_dates_nor_the_order_of_the_trials_matters(trials, shift, chance):
    days = np.cumsum(1.0 + np.arange(len(trials)))
    found = trend_over_trials(days, trials, level=0.95)
    moved = trend_over_trials(days + shift, trials, level=0.95)
    order = list(range(len(trials)))
    chance.shuffle(order)
    mixed = trend_over_trials(days[order], [trials[place] for place in order], level=0.95)
    for other in (moved, mixed):
        assert numbers(other) == pytest.approx(numbers(found), rel=1e-6, abs=1e-9, nan_ok=True)


@given(TRIALS, st.floats(-100, 100), st.floats(0.1, 10))
def test_a_level_leaves_it_alone_and_a_pace_adds_to_it(trials, level, pace):
    days = np.cumsum(1.0 + np.arange(len(trials)))
    found = trend_over_trials(days, trials, level=0.95)
    tilted = [one + level + pace * day for one, day in zip(trials, days, strict=True)]
    other = trend_over_trials(days, tilted, level=0.95)
    assert other.slope == pytest.approx(found.slope + pace, abs=1e-6)
    if not np.isnan(found.low) and found.high - found.low > 1e-4:
        assert other.high - other.low == pytest.approx(found.high - found.low, rel=1e-3)
