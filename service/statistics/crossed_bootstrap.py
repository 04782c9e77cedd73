"""The crossed bootstrap: would a difference hold on other rounds and on other RF channels?

Rounds and RF channels are resampled independently of each other and a cell counts as often as its round
times as often as its RF channel (McCullagh 2000, Resampling and exchangeable arrays, Bernoulli 6, 285-301;
Owen 2007, The pigeonhole bootstrap, Annals of Applied Statistics 1, 386-411). On average its variance falls
short of the true one by no more than the usual (n - 1)/n; the noise of single cells it counts about thrice.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import ndtr, stdtrit

from service.statistics.random_streams import Purpose, Stream
from service.statistics.results import Floats

RESAMPLES = 9_999
FEWEST_ROUNDS = 4
FEWEST_CHANNELS = 3
METHOD = "expanded percentile"
_AT_A_TIME = 3_333  # keeps the temporaries of a usual trial in the cache
_PRODUCT_ALONE = 200_000  # multiplications

Pair = tuple[int, int]


@dataclass(frozen=True)
class BootstrapInterval:
    """An interval of one pair's difference, first less second, adjusted for nothing."""

    low: float
    high: float
    level: float
    method: str
    resamples: int


def crossed_bootstrap(
    cells: ArrayLike, pairs: Sequence[Pair], *, level: float, seed: int
) -> tuple[BootstrapInterval | None, ...]:
    """Intervals for the differences of pairs of elements, over other rounds and other RF channels.

    `cells` has the shape (K, R, M): elements, rounds, RF channels; a run that was not made is NaN throughout.
    A pair uses the rounds that both hold. The same 9 999 resamples serve all pairs. An interval runs from
    the k-th smallest to the k-th largest resampled difference, k = max(1, floor(tail (B + 1))), with the tail
    of `expanded_tail` for the smaller of the pair's rounds and the RF channels; None where `too_few` says so.

    There is no null hypothesis and no tie rule: equal resamples stay as they are. Raises ValueError for
    another shape, a run with gaps or infinities, or a level outside 0 to 1. Source of the tails: Hesterberg
    (2015), What teachers should know about the bootstrap, The American Statistician 69, 371-386.
    """
    given = _checked(cells, level)
    common = [_common_rounds(given, pair).size for pair in pairs]
    judged = [at for at, rounds in enumerate(common) if too_few(rounds, given.shape[2]) is None]
    intervals: list[BootstrapInterval | None] = [None] * len(pairs)
    resampled = resampled_differences(given, [pairs[at] for at in judged], seed=seed)
    for at, values in zip(judged, resampled, strict=True):
        intervals[at] = _interval(values, min(common[at], given.shape[2]), level)
    return tuple(intervals)


def too_few(rounds: int, channels: int) -> str | None:
    """Why there is no interval for so many rounds and RF channels; None where there is one."""
    if rounds < FEWEST_ROUNDS:
        return f"fewer than {FEWEST_ROUNDS} rounds"
    return f"fewer than {FEWEST_CHANNELS} RF channels" if channels < FEWEST_CHANNELS else None


def expanded_tail(n: int, level: float) -> float:
    """The tail to cut off on either side so that a percentile interval from n units is wide enough.

    Phi(-sqrt(n/(n-1)) t[1 - (1 - level)/2; n - 1]): makes good the divisor n of a bootstrap variance and that
    the variance is estimated (Hesterberg 2015, as above). `n` is at least 2.
    """
    quantile = stdtrit(n - 1, 1 - (1 - level) / 2)
    return float(ndtr(-np.sqrt(n / (n - 1)) * quantile))


def resampled_differences(cells: Floats, pairs: Sequence[Pair], *, seed: int) -> Floats:
    """The resampled differences in mean of each pair, first less second, shape (pairs, 9 999).

    `cells` as in `crossed_bootstrap`; every pair must have a round in common.
    """
    differences = np.empty((len(pairs), RESAMPLES))
    if not pairs:
        return differences
    centred = np.nan_to_num(cells - np.nanmean(cells))  # a common level costs digits
    groups = _by_common_rounds(cells, pairs)
    for batch, (channel_weights, round_uniforms) in enumerate(_resamples(cells.shape, seed)):
        part = differences[:, batch * _AT_A_TIME : (batch + 1) * _AT_A_TIME]
        by_round = _product(centred.reshape(-1, cells.shape[2]), channel_weights).reshape(
            *cells.shape[:2], -1
        )
        for rounds, places in groups:
            weights = _weights(round_uniforms[: rounds.size])
            part[places] = _pair_differences(by_round[:, rounds], weights, [pairs[at] for at in places])
    return differences


def _product(runs: Floats, weights: Floats) -> Floats:
    """runs (n, M) times weights (batch, M) transposed, in pieces that the linear algebra library does alone.

    Larger products it shares among threads, which wait for each other by spinning: on a busy machine that
    costs ten times the work.
    """
    product = np.empty((len(runs), len(weights)))
    step = max(1, _PRODUCT_ALONE // runs.size)
    for start in range(0, len(weights), step):
        part = slice(start, start + step)
        product[:, part] = runs @ weights[part].T
    return product


def _checked(cells: ArrayLike, level: float) -> Floats:
    array = np.asarray(cells, dtype=np.float64)
    if array.ndim != 3:
        raise ValueError(f"{array.ndim} dimensions given, 3 wanted: elements, rounds, RF channels")
    missing = np.isnan(array)
    if np.isinf(array).any() or (missing.any(axis=2) & ~missing.all(axis=2)).any():
        raise ValueError("a run must be finite in every RF channel, or NaN in all of them")
    if not 0 < level < 1:
        raise ValueError(f"level {level} given, a share between 0 and 1 wanted")
    return array


def _common_rounds(cells: Floats, pair: Pair) -> NDArray[np.intp]:
    """The rounds that both elements hold, in order."""
    return np.flatnonzero(~np.isnan(cells[list(pair)]).any(axis=(0, 2)))


def _by_common_rounds(cells: Floats, pairs: Sequence[Pair]) -> list[tuple[NDArray[np.intp], list[int]]]:
    """The different sets of common rounds, each with the places of the pairs that have it."""
    common = [tuple(_common_rounds(cells, pair).tolist()) for pair in pairs]
    places = sorted(range(len(pairs)), key=lambda at: common[at])
    grouped = groupby(places, key=lambda at: common[at])
    return [(np.array(rounds, dtype=np.intp), list(members)) for rounds, members in grouped]


def _resamples(shape: tuple[int, ...], seed: int) -> Iterator[tuple[Floats, Floats]]:
    """Batch by batch: the weights of the RF channels (batch, M) and the uniforms of the rounds (R, batch)."""
    elements, rounds, channels = shape
    round_streams = _streams(seed, Purpose.BOOTSTRAP_ROUNDS, elements, rounds)
    channel_streams = _streams(seed, Purpose.BOOTSTRAP_CHANNELS, elements, channels)
    for start in range(0, RESAMPLES, _AT_A_TIME):
        size = min(_AT_A_TIME, RESAMPLES - start)
        yield _weights(_uniforms(channel_streams, size)), _uniforms(round_streams, size)


def _streams(seed: int, purpose: Purpose, elements: int, positions: int) -> list[Stream]:
    """One stream for each position of the resampled rounds or RF channels."""
    return [Stream(seed, purpose, elements=elements, round_number=at + 1) for at in range(positions)]


def _uniforms(streams: list[Stream], size: int) -> Floats:
    return np.stack([stream.uniforms(size, 1)[:, 0] for stream in streams])


def _weights(uniforms: Floats) -> Floats:
    """Of n drawn positions (n, batch), how often each unit was drawn, over n; shape (batch, n)."""
    n, batch = uniforms.shape
    # the largest uniforms are 1 after rounding, which would be a unit too many
    drawn = np.minimum((n * uniforms).astype(np.intp), n - 1) + n * np.arange(batch)
    return np.asarray(np.bincount(drawn.ravel(), minlength=n * batch).reshape(batch, n) / n)


def _pair_differences(by_round: Floats, weights: Floats, pairs: Sequence[Pair]) -> Floats:
    """Resampled differences from means by round (K, n, batch) and the weights of the rounds (batch, n)."""
    scores = np.einsum("krb,br->kb", by_round, weights)
    first, second = np.array(pairs).T
    return np.asarray(scores[first] - scores[second])


def _interval(values: Floats, units: int, level: float) -> BootstrapInterval:
    order = max(1, int(expanded_tail(units, level) * (values.size + 1)))
    ends = np.partition(values, [order - 1, values.size - order])
    return BootstrapInterval(
        float(ends[order - 1]), float(ends[values.size - order]), level, METHOD, values.size
    )
