"""Design histories: what does not creep is said to no oftener than promised, in the committed table too."""

import re

import numpy as np
import pytest
import statsmodels.api as sm
from scipy.optimize import brentq
from scipy.stats import binom

from tests.calibration.design_histories import ALPHA, CASES, COMMAND, TABLE, even, power, wrong
from tests.calibration.weighted_trend import weighted_trend

SLICE, WHOLE = 300, 5_000
ASKED_ANEW = 11  # another seed than the committed table
BY_NAME = {case.name: case for case in CASES}


def most(trials, promised):
    """The 99.9 % binomial bound."""
    return binom.ppf(0.999, trials, promised)


def kept(shares, trials):
    return shares[0] * trials <= most(trials, ALPHA) and shares[3] * trials <= most(trials, ALPHA / 2)


@pytest.mark.parametrize(
    "name",
    [
        "6 trials of 6 rounds, shift 0.5",
        "6 trials, 3 rounds at both ends, else 12, shift 0.3",
        "10 trials of 6 rounds, ends twice as noisy, shift 0.5",
    ],
)
def test_a_slice_of_histories_is_wrong_no_oftener_than_promised(name):
    assert kept(wrong(BY_NAME[name], SLICE, seed=ASKED_ANEW), SLICE)


def test_a_bound_that_is_broken_is_seen():
    """The line alone breaks it where the trials at the ends are noisier, weighted too; the bound sees it."""
    shares = wrong(BY_NAME["6 trials of 6 rounds, ends three times as noisy"], SLICE, seed=ASKED_ANEW)
    assert min(shares[1], shares[2]) * SLICE > most(SLICE, ALPHA)
    assert shares[0] < min(shares[1], shares[2])


def test_what_was_tried_and_left_is_the_weighted_least_squares_of_statsmodels():
    draw = np.random.default_rng(3)
    dates = np.arange(6.0)
    days = zip(2 * draw.normal(size=6), (3, 9, 4, 5, 12, 6), strict=True)
    rounds = [draw.normal(shift, 1.0, count) for shift, count in days]
    counts = np.array([len(one) for one in rounds])
    pooled = np.average([one.var(ddof=1) for one in rounds], weights=counts - 1)

    def fitted(shift):
        weights = 1 / (shift + pooled / counts)
        return sm.WLS([one.mean() for one in rounds], sm.add_constant(dates), weights=weights).fit()

    shift = brentq(lambda shift: fitted(shift).ssr - 4, 0, 100)
    expected = fitted(shift).params[1], *fitted(shift).conf_int(0.05)[1]
    assert weighted_trend(dates, rounds, level=0.95) == pytest.approx(expected, rel=1e-6)


def test_the_power_grows_with_change_and_trials():
    few, many = even("", (6,) * 4), even("", (6,) * 8)
    assert power(many, 3.0, 200) > 0.9
    assert power(many, 1.0, 200) > power(few, 1.0, 200)
    assert power(many, 3.0, 200) > power(many, 1.0, 200)


def test_the_committed_table_is_within_the_bound_and_tells_its_command():
    page = TABLE.read_text(encoding="utf-8")
    trials = int(re.search(r"--trials (\d+)", page)[1])
    assert COMMAND.format(trials=trials) in page
    rows = [line.strip("| ").split(" | ") for line in page.splitlines() if line.startswith("| ")]
    rates = {cells[0]: [float(cell) for cell in cells[1:]] for cells in rows if cells[0] in BY_NAME}
    assert set(rates) == set(BY_NAME)
    assert all(kept(shares, trials) for shares in rates.values())


@pytest.mark.calibration
@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_every_design_is_wrong_no_oftener_than_promised(case):
    assert kept(wrong(case, WHOLE, seed=ASKED_ANEW), WHOLE)
