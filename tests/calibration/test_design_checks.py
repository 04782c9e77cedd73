"""Design checks: one exactly a margin worse passes no oftener than promised, in the committed table too."""

import re

import numpy as np
import pytest
from scipy.stats import binom

from service.statistics.welch_limits import TwoNoises
from tests.calibration import few_rounds
from tests.calibration.design_checks import ALPHA, COMMAND, TABLE, WRONG, Case, power, simulated, wrong

SLICE, WHOLE = 60, 2_000
ASKED_ANEW = 11  # another seed than the committed table


def most(trials):
    """The 99.9 % binomial bound."""
    return binom.ppf(0.999, trials, ALPHA)


@pytest.mark.parametrize("case", [WRONG[0], WRONG[4], WRONG[9], WRONG[-2]], ids=lambda case: case.name)
def test_a_slice_of_checks_is_wrong_no_oftener_than_promised(case):
    trials = 2_000 if case.once else SLICE
    assert wrong(case, trials, seed=ASKED_ANEW) <= most(trials)


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
    for case in WRONG:
        assert rates[case.name] * simulated(case, trials) <= most(simulated(case, trials)) + 0.5


def test_banerjees_limits_keep_what_welchs_break_and_cost_less_than_the_smaller_side():
    """Computed anew for the page's own rounds; at every confidence that a trial may ask for."""
    for rounds in few_rounds.ROUNDS:
        assert few_rounds.worst("Banerjee", rounds) <= ALPHA * 1.005
        powers = [few_rounds.passes(kind, rounds, 1.0, worse=-2.0) for kind in few_rounds.KINDS]
        assert powers[1] <= powers[2] + 1e-12
        assert powers[2] < powers[0]
    assert few_rounds.worst("Welch", (3, 12)) > 0.058
    for alpha in (0.2, ALPHA / 3, 0.01, 0.0025):
        assert few_rounds.worst("Banerjee", (3, 12), alpha) <= 1.01 * alpha


@pytest.mark.parametrize(
    ("rounds", "kind"), [((3, 12), "Banerjee"), ((5, 5), "Banerjee"), ((6, 12), "Welch")]
)
def test_the_page_compares_the_limits_that_checks_use(rounds, kind):
    variances, freedoms = np.array([[0.7], [0.4]]), tuple(number - 1 for number in rounds)
    critical = few_rounds.critical_values(kind, variances, freedoms, ALPHA)
    used = TwoNoises((0.7, 0.4), freedoms)
    assert used.reach(ALPHA) == pytest.approx(float(critical[0]) * used.error, rel=1e-9)


def test_the_committed_page_holds_the_comparison_of_limits():
    assert TABLE.read_text(encoding="utf-8").endswith(few_rounds.page())


@pytest.mark.calibration
@pytest.mark.parametrize("case", WRONG, ids=lambda case: case.name)
def test_every_design_is_wrong_no_oftener_than_promised(case):
    trials = simulated(case, WHOLE)
    assert wrong(case, trials, seed=ASKED_ANEW) <= most(trials)
