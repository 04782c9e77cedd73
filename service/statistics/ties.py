"""Which numbers count as equal, and their ranks.

Decimals are seldom exact in binary: 0.3 - 0.2 and 0.2 - 0.1 differ in the last digit, and a rank method
would see an order where the meter showed none. Two values closer than `tolerance` are therefore one value.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from service.statistics.results import Floats


def finite_array(values: ArrayLike, dimensions: int) -> Floats:
    """The values as an array of 64-bit numbers with so many dimensions.

    Raises ValueError where the number of dimensions is another or a value is not finite.
    """
    array = np.asarray(values, dtype=np.float64)
    if array.ndim != dimensions:
        raise ValueError(f"{array.ndim} dimensions given, {dimensions} wanted")
    if not np.isfinite(array).all():
        raise ValueError("every value must be a finite number")
    return array


def tolerance(values: Floats) -> float:
    """The distance up to which two values count as one: 1e-9 times the largest magnitude, or times 1."""
    return 1e-9 * max(1.0, float(np.abs(values).max(initial=0.0)))


def doubled_midranks(values: Floats, within: float) -> NDArray[np.int64]:
    """Twice the rank of each value along the last axis, 1 the smallest; values nearer than `within` are tied.

    Tied values share the mean of the ranks they take up (midranks; Kendall 1945, The treatment of ties in
    ranking problems, Biometrika 33, 239-251). Twice a midrank is a whole number, so sums of ranks are exact.
    The shape is kept.
    """
    step = values[..., :, None] - values[..., None, :]
    below = (step > within).sum(axis=-1)
    tied = (np.abs(step) <= within).sum(axis=-1)
    return np.asarray(2 * below + tied + 1, dtype=np.int64)
