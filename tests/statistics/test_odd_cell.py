"""The odd cell against regressions with an indicator for each cell, its law by simulation, and its edges."""

import numpy as np
import pytest
from scipy.stats import t as student

from service.statistics.odd_cell import odd_cell


def by_indicator(table, place):
    """Deviation, its t and p: the coefficient of an indicator of that cell beside rows and columns."""
    held = np.argwhere(np.isfinite(table))
    design = np.hstack(
        [
            np.eye(table.shape[0])[held[:, 0]],
            np.eye(table.shape[1])[held[:, 1]],
            (held == place).all(axis=1, keepdims=True).astype(float),
        ]
    )
    y = table[tuple(held.T)]
    beta, _, rank, _ = np.linalg.lstsq(design, y)
    freedom = len(y) - int(rank)
    variance = ((y - design @ beta) ** 2).sum() / freedom
    error = np.sqrt(variance * np.linalg.pinv(design.T @ design)[-1, -1])
    statistic = beta[-1] / error
    return beta[-1], statistic, 2 * student.sf(abs(statistic), freedom)


@pytest.mark.parametrize("gaps", [0, 3])
def test_it_is_the_most_telling_indicator(gaps):
    for seed in range(10):
        draw = np.random.default_rng([gaps, seed])
        table = draw.normal(size=(4, 5)) + 3 * draw.normal(size=5)
        table[np.arange(gaps), np.arange(gaps)] = np.nan
        cells = [tuple(place) for place in np.argwhere(np.isfinite(table))]
        told = {place: by_indicator(table, place) for place in cells}
        best = min(cells, key=lambda place: told[place][2])
        result = odd_cell(table)
        assert result.cells == (best,)
        assert (result.deviation, result.statistic) == pytest.approx(told[best][:2], rel=1e-7)
        assert result.p_value == pytest.approx(min(1.0, len(cells) * told[best][2]), rel=1e-6)


def test_of_two_rows_neither_is_told_from_the_other():
    table = np.random.default_rng(2).normal(size=(2, 8))
    table[1, 4] += 20.0
    result = odd_cell(table)
    assert result.cells == ((0, 4), (1, 4))
    assert result.p_value < 0.001
    assert result.p_value == pytest.approx(8 * by_indicator(table, (1, 4))[2], rel=1e-6)


@pytest.mark.parametrize("shape", [(2, 8), (4, 6)])
def test_a_sound_table_has_an_odd_cell_as_seldom_as_said(shape):
    draw, trials = np.random.default_rng(11), 2000
    called = sum(odd_cell(draw.normal(size=shape)).p_value <= 0.05 for _ in range(trials))
    assert 0.6 * 0.05 <= called / trials <= 0.05 + 3.3 * np.sqrt(0.05 * 0.95 / trials)


def test_a_noisy_row_hides_behind_its_own_noise():
    draw = np.random.default_rng(5)
    table = draw.normal(size=(12, 8))
    table[3] = 12.0 * draw.normal(size=8)
    assert odd_cell(table).p_value < 0.02
    assert odd_cell(table, by_row=True).p_value > 0.02
    table[7, 2] += 40.0
    assert odd_cell(table, by_row=True).cells == ((7, 2),)


def test_one_step_of_the_meter_is_not_out_of_line():
    table = np.full((3, 6), 5.0)
    table[1, 2] = 5.1
    assert odd_cell(table).p_value < 0.001
    assert odd_cell(table, least_variance=0.1**2 / 12).p_value > 0.02


def test_where_nothing_is_left_over_nothing_is_odd():
    assert odd_cell(np.add.outer([0.1, 0.2, 0.3], [1.0, 2.0, 3.0, 4.0])) is None
    assert odd_cell(np.array([[1.0, 2.0], [2.0, 5.0]])) is None


def test_a_column_without_cells_is_passed_over():
    table = np.random.default_rng(3).normal(size=(4, 6))
    table[2, 4] += 30.0
    gap = np.insert(table, 1, np.nan, axis=1)
    assert odd_cell(gap).cells == ((2, 5),)
    assert odd_cell(gap).p_value == pytest.approx(odd_cell(table).p_value, rel=1e-9)
