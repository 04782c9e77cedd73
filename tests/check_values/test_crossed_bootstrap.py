"""The crossed bootstrap: its exact variance, what that is on average, and the expanded tails."""

from math import sqrt

import numpy as np
import pytest

from service.statistics.crossed_bootstrap import RESAMPLES, expanded_tail, resampled_differences

MONTE_CARLO = 4 * sqrt(2 / RESAMPLES)


def against_nothing(matrices):
    """Cells whose element 0 is zero everywhere: differences from it are the means of the matrices."""
    return np.concatenate([np.zeros_like(matrices[:1]), matrices])


@pytest.mark.parametrize("transposed", [False, True])
def test_variance_of_a_grand_mean_with_rows_and_columns_resampled(check_value, transposed):
    entry = check_value("crossed-bootstrap-variance")
    cotton = np.array(entry.data["rows_are_blocks_columns_potash_144_108_72_54_36"])
    matrix = cotton.T if transposed else cotton
    means = resampled_differences(against_nothing(matrix[None]), [(1, 0)], seed=1)[0]
    exact = entry.results["computed"]["crossed"]
    assert means.var() == pytest.approx(exact, rel=MONTE_CARLO)
    assert means.mean() == pytest.approx(entry.results["computed"]["mean"], abs=4 * sqrt(exact / RESAMPLES))


def test_variance_is_on_average_what_the_components_say(check_value):
    entry = check_value("crossed-bootstrap-expectation")
    rows, columns = entry.data["rows"], entry.data["columns"]
    generator = np.random.Generator(np.random.Philox(5))
    variances = []
    for seed in range(5):
        matrices = (
            entry.data["sd_row"] * generator.normal(size=(200, rows, 1))
            + entry.data["sd_column"] * generator.normal(size=(200, 1, columns))
            + entry.data["sd_cell"] * generator.normal(size=(200, rows, columns))
        )
        pairs = [(matrix, 0) for matrix in range(1, 201)]
        variances.append(resampled_differences(against_nothing(matrices), pairs, seed=seed).var(axis=1))
    found = np.concatenate(variances)
    error = 4 * found.std() / sqrt(found.size)
    assert error < 0.04
    assert found.mean() == pytest.approx(entry.results["computed"]["expected_crossed"], abs=error)


@pytest.mark.parametrize(("level", "name"), [(0.95, "tail_95"), (0.9, "tail_90")])
def test_expanded_tails(check_value, level, name):
    entry = check_value("expanded-percentile-tails")
    tails = [expanded_tail(n, level) for n in entry.data["n"]]
    assert tails == entry.expected("computed", name)
