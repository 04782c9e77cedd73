"""Each pair's own sign-flip p value, over the rounds that hold both."""

import numpy as np

from service.statistics.pair_statistics import pair_indices
from service.statistics.results import Floats
from service.statistics.sign_flip import sign_flips

FEWEST_ROUNDS = 2


def pair_p_values(scores: Floats, *, seed: int) -> Floats:
    """Two-sided p of every pair, (pairs,), NaN below two shared rounds; adjusted for nothing.

    scores: (K, R), NaN where no run was made. H0 and source: see sign_flip.
    """
    first, second = pair_indices(len(scores))
    differences = scores[first] - scores[second]
    present = np.isfinite(differences)
    found = np.full(len(first), np.nan)
    for pattern in np.unique(present, axis=0) if len(first) else ():
        if pattern.sum() >= FEWEST_ROUNDS:
            here = (present == pattern).all(axis=1)
            found[here] = [test.p_value for test in sign_flips(differences[here][:, pattern], seed=seed)]
    return found
