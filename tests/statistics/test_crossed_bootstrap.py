"""The crossed bootstrap against a plain one, by what must not change it, and at its edges."""

from itertools import combinations

import numpy as np
import pytest
from scipy.stats import norm, t

from service.statistics.crossed_bootstrap import (
    RESAMPLES,
    crossed_bootstrap,
    expanded_tail,
    resampled_differences,
    too_few,
)
from service.statistics.random_streams import Stream


def cells(seed: int, *shape: int) -> np.ndarray:
    generator = np.random.Generator(np.random.Philox(seed))
    elements, rounds, channels = shape
    return (
        -60
        + generator.normal(size=(elements, 1, 1))
        + generator.normal(size=(1, rounds, 1))
        + 5 * generator.normal(size=(1, 1, channels))
        + generator.normal(size=shape)
    )


def all_pairs(elements: int) -> list[tuple[int, int]]:
    return list(combinations(range(elements), 2))


def drawn(seed: int, purpose: int, elements: int, n: int) -> np.ndarray:
    """Which of n units stands at each of n positions, for every resample; shape (resamples, n)."""
    columns = []
    for position in range(1, n + 1):
        key = np.array([seed, (purpose << 48) + (elements << 32) + position], dtype=np.uint64)
        word = np.random.Philox(key=key).random_raw(RESAMPLES)
        columns.append(np.floor(n * ((word >> np.uint64(11)) + 0.5) * 2.0**-53).astype(int))
    return np.stack(columns, axis=1)


def plain_differences(table: np.ndarray, pair: tuple[int, int], seed: int) -> np.ndarray:
    """One pair, resample by resample: the mean of the resampled rows and columns of its differences."""
    elements, _, channels = table.shape
    differences = table[pair[0]] - table[pair[1]]
    differences = differences[~np.isnan(differences).any(axis=1)]
    rows, columns = drawn(seed, 3, elements, len(differences)), drawn(seed, 4, elements, channels)
    return np.array([differences[np.ix_(r, c)].mean() for r, c in zip(rows, columns, strict=True)])


@pytest.fixture(scope="module")
def uneven():
    table = cells(1, 4, 6, 5)
    table[0, 2] = table[3, 5] = table[2, 0] = table[2, 1] = table[1, 4] = np.nan
    return table


@pytest.mark.parametrize("pair", [(0, 1), (0, 3), (3, 1)])
def test_resamples_are_drawn_as_described_from_the_rounds_both_hold(uneven, pair):
    found = resampled_differences(uneven, [pair], seed=7)[0]
    assert found == pytest.approx(plain_differences(uneven, pair, 7), abs=1e-12)


def test_ends_are_the_order_statistics_of_the_expanded_tail():
    table = cells(2, 2, 9, 12)
    interval = crossed_bootstrap(table, [(0, 1)], level=0.9, seed=1)[0]
    tail = norm.cdf(-np.sqrt(9 / 8) * t.ppf(0.95, 8))
    k = int(tail * 10_000)
    assert k > 1
    values = np.sort(plain_differences(table, (0, 1), 1))
    assert (interval.low, interval.high) == pytest.approx((values[k - 1], values[-k]), abs=1e-12)
    assert (interval.level, interval.method, interval.resamples) == (0.9, "expanded percentile", 9_999)


def test_from_few_units_the_ends_are_the_range_of_the_resamples():
    table = cells(2, 2, 9, 3)
    interval = crossed_bootstrap(table, [(0, 1)], level=0.95, seed=1)[0]
    values = resampled_differences(table, [(0, 1)], seed=1)[0]
    assert (interval.low, interval.high) == (values.min(), values.max())


def test_the_smaller_of_rounds_and_channels_sets_the_tail():
    for shape in ((2, 4, 30), (2, 30, 4)):
        table = cells(3, *shape)
        values = np.sort(resampled_differences(table, [(0, 1)], seed=1)[0])
        k = max(1, int(expanded_tail(4, 0.8) * 10_000))
        assert k > 1
        assert crossed_bootstrap(table, [(0, 1)], level=0.8, seed=1)[0].low == values[k - 1]


def test_all_pairs_share_their_resamples():
    table = cells(4, 3, 6, 8)
    first, second, third = resampled_differences(table, all_pairs(3), seed=1)
    assert first + third == pytest.approx(second, abs=1e-12)


def test_neither_the_other_pairs_nor_their_order_matter(uneven):
    pairs = all_pairs(4)
    together = crossed_bootstrap(uneven, pairs, level=0.95, seed=1)
    assert crossed_bootstrap(uneven, pairs[::-1], level=0.95, seed=1) == together[::-1]
    assert tuple(crossed_bootstrap(uneven, [pair], level=0.95, seed=1)[0] for pair in pairs) == together


def test_a_pair_is_judged_as_if_only_its_common_rounds_had_been_made(uneven):
    kept = [0, 1, 3, 5]
    whole = crossed_bootstrap(uneven, [(0, 1)], level=0.95, seed=1)[0]
    alone = crossed_bootstrap(uneven[:, kept], [(0, 1)], level=0.95, seed=1)[0]
    assert (whole.low, whole.high) == pytest.approx((alone.low, alone.high), abs=1e-12)


def test_turning_a_pair_turns_its_interval():
    table = cells(5, 2, 6, 8)
    there, back = crossed_bootstrap(table, [(0, 1), (1, 0)], level=0.95, seed=1)
    assert (back.low, back.high) == (-there.high, -there.low)


def test_equal_elements_differ_by_nothing_at_all():
    table = np.repeat(cells(6, 1, 6, 8), 2, axis=0)
    interval = crossed_bootstrap(table, [(0, 1)], level=0.95, seed=1)[0]
    assert (interval.low, interval.high) == (0.0, 0.0)


def test_the_variance_is_the_exact_one_of_product_weights():
    """sum a^2/R^2 + sum b^2/M^2 + sum e^2/(RM)^2 with the effects of rounds, channels and what is left."""
    table = cells(7, 2, 6, 24)
    differences = table[0] - table[1]
    rounds, channels = differences.mean(axis=1), differences.mean(axis=0)
    left = differences - rounds[:, None] - channels + differences.mean()
    exact = rounds.var() / 6 + channels.var() / 24 + (left**2).sum() / (6 * 24) ** 2
    found = resampled_differences(table, [(0, 1)], seed=1)[0].var()
    assert found == pytest.approx(exact, rel=4 * np.sqrt(2 / RESAMPLES))


@pytest.mark.parametrize(
    ("rounds", "channels", "reason"),
    [
        (3, 24, "fewer than 4 rounds"),
        (4, 2, "fewer than 3 RF channels"),
        (0, 0, "fewer than 4 rounds"),
        (4, 3, None),
    ],
)
def test_too_few_units_have_no_interval_and_a_reason(rounds, channels, reason):
    assert too_few(rounds, channels) == reason
    interval = crossed_bootstrap(np.zeros((2, rounds, channels)), [(0, 1)], level=0.95, seed=1)[0]
    assert (interval is None) == (reason is not None)


def test_only_the_pair_that_shares_too_few_rounds_goes_without(uneven):
    found = crossed_bootstrap(uneven, all_pairs(4), level=0.95, seed=1)
    without = [pair for pair, interval in zip(all_pairs(4), found, strict=True) if interval is None]
    assert without == [(0, 2), (1, 2), (2, 3)]


def test_no_pairs_have_no_intervals():
    assert crossed_bootstrap(np.zeros((1, 6, 8)), [], level=0.95, seed=1) == ()


def test_a_uniform_that_rounds_to_one_draws_the_last_unit(monkeypatch):
    table = cells(8, 2, 4, 3)
    monkeypatch.setattr(Stream, "uniforms", lambda _, draws, width: np.ones((draws, width)))
    interval = crossed_bootstrap(table, [(0, 1)], level=0.95, seed=1)[0]
    assert interval.low == pytest.approx((table[0] - table[1])[-1, -1], abs=1e-12)


def test_another_seed_draws_others():
    table = cells(9, 2, 6, 8)
    one, two = (crossed_bootstrap(table, [(0, 1)], level=0.95, seed=seed)[0] for seed in (1, 2))
    assert one != two
    assert one.low == pytest.approx(two.low, abs=0.3)


def gap(table: np.ndarray) -> np.ndarray:
    table[0, 0, 0] = np.nan
    return table


@pytest.mark.parametrize(
    ("table", "level"),
    [
        (np.zeros((2, 6)), 0.95),
        (gap(np.zeros((2, 6, 8))), 0.95),
        (np.full((2, 6, 8), np.inf), 0.95),
        (np.zeros((2, 6, 8)), 95),
    ],
)
def test_other_input_is_refused(table, level):
    with pytest.raises(ValueError, match=r"dimensions given|a run must be|level"):
        crossed_bootstrap(table, [(0, 1)], level=level, seed=1)
