"""Degrees of freedom of a sum of variances that were estimated apart."""

import numpy as np

from service.statistics.results import Floats


def satterthwaite(variances: Floats, freedoms: Floats) -> float | None:
    """(sum v)^2 / sum (v^2 / df), not rounded; None where all variances are 0.

    variances, freedoms: (k,), each variance with its own degrees of freedom. Source: Satterthwaite (1946), An
    approximate distribution of estimates of variance components, Biometrics Bulletin 2, 110-114.
    """
    total = float(variances.sum())
    return total**2 / float((np.square(variances) / freedoms).sum()) if total > 0.0 else None
