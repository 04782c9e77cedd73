"""The largest pair statistic: shuffled against enumeration, bell-shaped against the studentised range."""

import numpy as np
import pytest

from service.statistics.bell_reference import MemoryStore, bell_reference
from service.statistics.least_squares import fit
from service.statistics.looks import Plan
from service.statistics.pair_statistics import pair_indices, pair_table
from service.statistics.random_streams import BELL_SEED, Purpose, Stream
from service.statistics.running_pairs import RunningPairs
from service.statistics.shuffled_maximum import shuffled_maximum


def blends(check_value, columns):
    whole = check_value("max-t-penicillin")
    return np.array(whole.data["rows_are_blends_columns_a_b_c_d"]).T[:columns]


def statistics(scores):
    fitted = fit(scores)
    return fitted, pair_table(scores, fitted, floor=0.0, tol=1e-9)


@pytest.mark.parametrize(("name", "columns"), [("max-t-penicillin", 4), ("max-t-penicillin-three", 3)])
def test_pair_statistics_of_the_blends(check_value, name, columns):
    entry = check_value(name)
    fitted, table = statistics(blends(check_value, columns))
    expected = entry.results["computed"]
    assert [list(pair) for pair in zip(*pair_indices(columns), strict=True)] == expected["pair"]
    assert list(table.difference) == pytest.approx(expected["difference"], abs=1e-12)
    assert list(table.standard_error) == pytest.approx(expected["standard_error"], abs=1e-6)
    assert list(table.statistic) == pytest.approx(expected["t"], abs=1e-6)
    pooled = 2.0 * fitted.residual_ss / fitted.degrees_of_freedom
    assert pooled == pytest.approx(expected["pooled_variance_of_difference"], abs=1e-9)


def test_residual_sum_of_squares_as_printed(check_value):
    scores = blends(check_value, 4)
    fitted = fit(scores)
    published = check_value("max-t-penicillin").results["published"]
    assert list(fitted.effects) == published["treatment_means"]
    assert fitted.residual_ss == pytest.approx(published["ss_residual"], rel=1e-12)


def test_all_arrangements_of_three_blends(check_value):
    entry = check_value("max-t-penicillin-three")
    fitted, table = statistics(blends(check_value, 3))
    shuffled = shuffled_maximum(fitted.residuals, floor=0.0, seed=1)
    assert shuffled.enumerated
    assert shuffled.arrangements == 6**5
    counts = shuffled.share(table.statistic) * (6**5 + 1) - 1
    assert list(counts / 6**5) == pytest.approx(entry.results["computed"]["shuffled_share"], abs=1e-8)
    plain_critical = np.sort(shuffled.maxima)[int(np.ceil(0.95 * 6**5)) - 1]
    assert plain_critical == pytest.approx(entry.results["computed"]["shuffled_critical_95"], abs=1e-6)
    assert shuffled.maxima.max() == pytest.approx(entry.results["computed"]["largest_attainable"], abs=1e-6)


def test_drawn_arrangements_of_four_blends(check_value):
    entry = check_value("max-t-penicillin")
    fitted, table = statistics(blends(check_value, 4))
    shuffled = shuffled_maximum(fitted.residuals, floor=0.0, seed=1)
    assert not shuffled.enumerated
    expected = np.array(entry.results["computed"]["shuffled_share"])
    assert np.all(
        np.abs(shuffled.share(table.statistic) - expected) < 4 * np.sqrt(expected * (1 - expected) / 19_999)
    )
    assert shuffled.maxima.max() <= entry.results["computed"]["largest_attainable"] + 1e-6


@pytest.mark.parametrize("place", range(8))
def test_bell_shaped_reference_of_one_look(check_value, place):
    entry = check_value("max-t-normal-readings")
    elements, rounds = entry.data["elements"][place], entry.data["rounds"][place]
    expected = entry.results["computed"]
    for alpha, name, wider in ((0.05, "larger_variance", 1.0), (0.01, "larger_variance_99", 3.5)):
        reference = bell_reference(elements, rounds, Plan(rounds, alpha, False), store=MemoryStore())
        equal_noise = reference.maxima[0][-round(alpha * reference.draws) - 1]
        allowed = (
            wider
            * 4
            * np.hypot(expected["standard_error"][place], expected["standard_error_100000_draws"][place])
        )
        assert equal_noise == pytest.approx(expected[name][place], abs=allowed)
        assert reference.at(rounds).critical >= equal_noise - 1e-12


def test_pooled_variance_alone_gives_the_studentised_range(check_value):
    """The same draws judged by the pooled variance only: q(K, (K-1)(R-1)) / sqrt 2."""
    expected = check_value("max-t-normal-readings").results["computed"]["pooled_variance_only"][4]
    running = RunningPairs(4, 40_000)
    for number in range(1, 7):
        stream = Stream(BELL_SEED, Purpose.BELL_SHAPED, elements=4, round_number=number)
        running.add(stream.normals(40_000, 4).T)
    first, second = pair_indices(4)
    sums = running.totals[first] - running.totals[second]
    spread = (running.squares - sums**2 / 6) / 5
    largest = (np.abs(sums) / np.sqrt(6 * spread.mean(axis=0))).max(axis=0)
    assert np.quantile(largest, 0.95) == pytest.approx(expected, abs=0.03)
