"""Whether a difference is another one on every channel: two-way analysis of variance without replication."""

import numpy as np
from scipy.special import fdtrc

from service.statistics.pair_statistics import is_quiet
from service.statistics.results import Floats


def channel_pattern(differences: Floats, *, floor: float) -> float:
    """p value of the test that paired differences (R, M) change from channel to channel by chance alone.

    Model: d_rm = round_r + channel_m + error_rm, errors independent and normal. H0: all channels alike.
    F = MS(channels) / MS(error) on M - 1 and (R - 1)(M - 1) degrees of freedom. floor: variance that rounding
    leaves in a cell's difference; MS(error) is at least that, and where it is no more than 1.5 floors
    rounding is the same in every round and does not average out, so that MS(channels) holds it R times.
    R >= 2, M >= 2. Without error and floor p is 0 where channels differ, else 1.
    Source: Fisher (1935), The Design of Experiments, section 26 (from memory).
    """
    rounds, channels = differences.shape
    centred = differences - differences.mean(axis=1, keepdims=True)
    by_channel = centred.mean(axis=0)
    between = rounds * float(np.square(by_channel).sum()) / (channels - 1)
    error = float(np.square(centred - by_channel).sum()) / ((rounds - 1) * (channels - 1))
    dust = 1e-18 * max(1.0, float(np.square(differences).max()))
    error = max(error, floor)
    if is_quiet(error, floor):
        error = max(error, rounds * floor)
    if error <= dust:
        return 0.0 if between > dust else 1.0
    return float(fdtrc(channels - 1, (rounds - 1) * (channels - 1), between / error))
