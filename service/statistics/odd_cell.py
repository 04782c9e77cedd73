"""The one cell of a two-way table that is out of line with all the others."""

from dataclasses import dataclass

import numpy as np
from scipy.special import stdtr

from service.statistics.least_squares import Fit, fit
from service.statistics.results import Flags, Floats
from service.statistics.ties import tolerance

TIED = 1e-9
OWN_FREEDOM = 2  # a row of n residuals gives the noise of all but one of them on n - 2 degrees of freedom


@dataclass(frozen=True)
class OddCell:
    """The answer of `odd_cell`.

    `cells` are the (row, column) whose studentised residual is largest, several only where the table cannot
    tell them apart; `deviation` is by how much the first of them lies above what the rest of the table leads
    to expect, `sd` the noise of one cell without it, `statistic` t, `p_value` adjusted for all cells.
    """

    cells: tuple[tuple[int, int], ...]
    deviation: float
    sd: float
    statistic: float
    p_value: float


@dataclass(frozen=True)
class _Studentised:
    """For each cell: deviation from what the others lead to expect, noise without it, t and p."""

    deviation: Floats
    sd: Floats
    statistic: Floats
    p_value: Floats


def odd_cell(table: Floats, *, least_variance: float = 0.0, by_row: bool = False) -> OddCell | None:
    """Test whether one cell does not fit y = row effect + column effect + noise.

    H0: noise independent and normal with one variance. Each residual e with leverage h is held against the
    noise of the other cells, t = e / (s sqrt(1 - h)) with s^2 = (RSS - e^2 / (1 - h)) / (df - 1), which has
    Student's law on df - 1 degrees of freedom. The largest |t| counts; its two-sided p is multiplied by the
    number of cells (Bonferroni, an upper bound), of columns where there are but two rows, whose residuals
    mirror one another. s^2 is at least `least_variance`, what a meter's rounding leaves in a cell.

    With `by_row` rows may differ in noise: p is the larger of that one and of the same test within the cell's
    own row of residuals, on n - 2 degrees of freedom. The table must then be complete.

    `table` has the shape (rows, columns), NaN where there is no cell; all rows joined by shared columns. None
    where the fit leaves fewer than two degrees of freedom or nothing at all. Sources: Stefansky (1972),
    Rejecting outliers in factorial designs, Technometrics 14, 469-479; Cook and Weisberg (1982), Residuals
    and Influence in Regression, section 2.2 (both from memory).
    """
    fitted = fit(table)
    if fitted.degrees_of_freedom < 2 or not np.nanmax(np.abs(fitted.residuals)) > _tolerance(table):
        return None
    least = max(least_variance, _tolerance(table) ** 2)
    told = _studentised(table, fitted, least)
    p_value = np.fmax(told.p_value, _within_rows(fitted.residuals, least)) if by_row else told.p_value
    return _conclude(told, p_value)


def _tolerance(table: Floats) -> float:
    return tolerance(table[np.isfinite(table)])


def _studentised(table: Floats, fitted: Fit, least: float) -> _Studentised:
    free = _one_less_leverage(np.isfinite(table), fitted.inverse)
    deviation = np.where(free > TIED, fitted.residuals / np.maximum(free, TIED), np.nan)
    freedom = fitted.degrees_of_freedom - 1
    rest = (fitted.residual_ss - fitted.residuals * deviation) / freedom
    sd = np.sqrt(np.maximum(rest, least))
    statistic = deviation * np.sqrt(free) / sd
    return _Studentised(deviation, sd, statistic, 2 * stdtr(freedom, -np.abs(statistic)))


def _one_less_leverage(present: Flags, inverse: Floats) -> Floats:
    """1 - h of each cell; h = 1/n + u' C u, u the cell's row less the mean of the rows of its column."""
    free = np.full(present.shape, np.nan)
    for column, rows in enumerate(present.T):
        if rows.any():
            away = np.eye(len(rows)) - rows / rows.sum()
            leverage = 1 / rows.sum() + ((away @ inverse) * away).sum(axis=1)
            free[rows, column] = np.maximum(1 - leverage[rows], 0.0)
    return free


def _within_rows(residuals: Floats, least: float) -> Floats:
    """p of each residual against the others of its row, whose residuals sum to 0."""
    count = residuals.shape[1]
    if count <= OWN_FREEDOM:
        return np.ones_like(residuals)
    taken = np.square(residuals) * count / (count - 1)
    rest = (np.square(residuals).sum(axis=1, keepdims=True) - taken) / (count - OWN_FREEDOM)
    statistic = np.abs(residuals) * np.sqrt(count / (count - 1)) / np.sqrt(np.maximum(rest, least))
    return np.asarray(2 * stdtr(count - OWN_FREEDOM, -statistic))


def _conclude(told: _Studentised, p_value: Floats) -> OddCell:
    rows, columns = p_value.shape
    comparisons = columns if rows == 2 else int(np.isfinite(p_value).sum())
    place = np.unravel_index(int(np.nanargmin(p_value)), p_value.shape)
    size = abs(told.statistic[place])
    tied = np.abs(told.statistic) >= size * (1 - TIED)
    tied &= np.arange(columns) == place[1]
    return OddCell(
        cells=tuple((int(row), int(column)) for row, column in np.argwhere(tied)),
        deviation=float(told.deviation[place]),
        sd=float(told.sd[place]),
        statistic=float(told.statistic[place]),
        p_value=min(1.0, comparisons * float(p_value[place])),
    )
