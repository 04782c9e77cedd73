"""Design checks: one exactly a margin worse passes no oftener than promised, in the committed table too."""

import re

import pytest
from scipy.stats import binom

from tests.calibration.design_checks import ALPHA, COMMAND, TABLE, WRONG, Case, power, wrong

SLICE, WHOLE = 60, 2_000
ASKED_ANEW = 11  # another seed than the committed table


def most(trials, promised=ALPHA):
    """The 99.9 % binomial bound."""
    return binom.ppf(0.999, trials, promised)


@pytest.mark.parametrize("case", [WRONG[0], WRONG[4], WRONG[7], WRONG[8]], ids=lambda case: case.name)
def test_a_slice_of_checks_is_wrong_no_oftener_than_promised(case):
    trials = SLICE if not case.now else 1_000
    assert wrong(case, trials, seed=ASKED_ANEW) <= most(trials, case.promised)


def test_a_bound_that_is_broken_is_seen():
    """Twice the rate is seen by the same bound, and the rate is not far below what is promised."""
    assert most(1_000) < 0.10 * 1_000
    assert wrong(Case("as said", now=6, then=6), 1_000, seed=ASKED_ANEW) > binom.ppf(0.001, 1_000, 0.03)


def test_the_power_grows_with_margin_and_rounds():
    wide, narrow = (power(margin, 30, through=False) for margin in (3.0, 1.0))
    assert wide == sorted(wide)
    assert wide[-1] > narrow[-1]
    assert power(3.0, 200, through=True)[0] > 0.6


def test_the_committed_table_is_within_the_bound_and_tells_its_command():
    page = TABLE.read_text(encoding="utf-8")
    trials = int(re.search(r"--trials (\d+)", page)[1])
    assert COMMAND.format(trials=trials) in page
    rows = [line.strip("| ").split(" | ") for line in page.splitlines() if line.startswith("| ")]
    rates = {cells[0]: float(cells[1]) for cells in rows if cells[0] in {case.name for case in WRONG}}
    assert set(rates) == {case.name for case in WRONG}
    assert all(rates[case.name] * trials <= most(trials, case.promised) + 0.5 for case in WRONG)


@pytest.mark.calibration
@pytest.mark.parametrize("case", WRONG, ids=lambda case: case.name)
def test_every_design_is_wrong_no_oftener_than_promised(case):
    assert wrong(case, WHOLE, seed=ASKED_ANEW) <= most(WHOLE, case.promised)
