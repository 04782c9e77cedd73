"""Fits and counts against statsmodels, a reference library, on random tables."""

import numpy as np
import pandas as pd
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from statsmodels.formula.api import ols
from statsmodels.regression.linear_model import OLS
from statsmodels.stats.anova import anova_lm
from statsmodels.stats.contingency_tables import cochrans_q

from service.statistics.channel_pattern import channel_pattern
from service.statistics.cochran_q import cochran_q
from service.statistics.least_squares import fit, variance_factors
from service.statistics.pair_statistics import pair_indices

QUICK = settings(max_examples=25, deadline=None, database=None, derandomize=True)
SHAPES = st.tuples(st.integers(2, 5), st.integers(1, 5), st.integers(1, 6))
MARKS = arrays(np.int64, SHAPES, elements=st.integers(0, 1))


@pytest.mark.parametrize("missing", [[], [(0, 1)], [(0, 0), (1, 0), (3, 5), (2, 2)]])
def test_fit_is_that_of_ordinary_least_squares(missing):
    scores = np.random.default_rng(1).normal(5, 1, size=(4, 6))
    for element, number in missing:
        scores[element, number] = np.nan
    k, r = np.nonzero(np.isfinite(scores))
    design = np.column_stack([k[:, None] == np.arange(4), r[:, None] == np.arange(1, 6)]).astype(float)
    reference = OLS(scores[k, r], design).fit()
    found = fit(scores)
    assert found.degrees_of_freedom == reference.df_resid
    assert found.residual_ss == pytest.approx(reference.ssr, rel=1e-9)
    first, second = pair_indices(4)
    factors = variance_factors(found.inverse, first, second)
    for place, (i, j) in enumerate(zip(first, second, strict=True)):
        contrast = np.zeros(design.shape[1])
        contrast[[i, j]] = 1, -1
        test = reference.t_test(contrast)
        assert found.effects[i] - found.effects[j] == pytest.approx(test.effect[0], abs=1e-9)
        assert factors[place] == pytest.approx((test.sd.item() ** 2) / reference.mse_resid, rel=1e-9)


@QUICK
@given(MARKS)
def test_the_statistic_is_that_of_statsmodels(received):
    assume((received != received[:1]).any())
    rows = received.reshape(received.shape[0], -1).T
    result = cochran_q(received, seed=1)
    assert result.statistic == pytest.approx(cochrans_q(rows).statistic, rel=1e-9, abs=1e-9)
    assert result.method == "19999 draws"


@pytest.mark.parametrize(("rounds", "channels", "pattern"), [(6, 4, 0.0), (4, 7, 0.3), (2, 2, 1.0)])
def test_a_pattern_over_channels_has_the_p_of_the_two_way_table(rounds, channels, pattern):
    rng = np.random.default_rng(1)
    given = rng.normal(size=(rounds, channels)) + rng.normal(size=(rounds, 1)) + pattern * np.arange(channels)
    places = np.indices(given.shape).reshape(2, -1)
    frame = pd.DataFrame({"value": given.ravel(), "round": places[0], "channel": places[1]})
    expected = anova_lm(ols("value ~ C(round) + C(channel)", frame).fit())["PR(>F)"]["C(channel)"]
    assert channel_pattern(given, floor=0.0) == pytest.approx(expected, rel=1e-9)
