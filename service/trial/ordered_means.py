"""Means whose last bit does not depend on the order of the rows."""

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]


def ordered_means(values: Numbers, group: NDArray[np.int64], groups: int) -> Numbers:
    """The mean of the values of each group, shape (groups,); NaN for a group without values.

    The values of a group are put in ascending order, added from left to right in double precision, from 0,
    and divided by their number: neither the order of rows nor the names of channels can change a bit of the
    result, and another program can repeat it. A NaN makes the mean of its group NaN.
    """
    counts = np.bincount(group, minlength=groups)
    if counts.max(initial=0) > 1:
        order = np.lexsort((values, group))
        values, group = values[order], group[order]
    sums = np.bincount(group, weights=values, minlength=groups)
    return np.asarray(np.divide(sums, counts, out=np.full(groups, np.nan), where=counts > 0))


def ordered_sum(values: Numbers) -> float:
    """The sum of the values, put in ascending order and added from left to right, from 0."""
    return float(np.cumsum(np.sort(values))[-1]) if values.size else 0.0
