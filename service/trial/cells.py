"""The cells of a trial: one for each mounting and channel that was scanned, its scans averaged."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import pandas as pd

from service.trial.codes import Codes, codes_in
from service.trial.ordered_means import Numbers, ordered_means
from service.trial.trial import Trial


@dataclass(frozen=True, eq=False)
class Mountings:
    """The mountings of the runs that count, in order of element, round and mounting.

    `element` and `round` are indices into the trial's elements and into `rounds` (labels, ascending), both
    of shape (N,); `run` is the index of the mounting's run among the Q runs, `first` that of the first
    mounting of each run.
    """

    rounds: tuple[int, ...]
    element: Codes
    round: Codes
    run: Codes
    first: Codes


@dataclass(frozen=True, eq=False)
class Cells:
    """What was read in each mounting on each channel, arrays of one length.

    `mounting` and `channel` are indices. `level` is the mean of the scans in meter units, where a scan that
    found nothing counts as the lowest level of a bounded meter and makes the cell NaN on an unbounded one;
    `heard` is the same without the scans of an unbounded meter that found nothing (NaN: none left).
    `least` and `most` are the ends of the scans' levels (infinite the wrong way round: none), `received` and
    `scans` count those that found something and all.
    """

    mounting: Codes
    channel: Codes
    level: Numbers
    heard: Numbers
    least: Numbers
    most: Numbers
    received: Codes
    scans: Codes


def counted_rows(trial: Trial, frame: pd.DataFrame, *, with_struck: bool) -> pd.DataFrame:
    """The rows of the runs that count: all, or all but those of struck runs."""
    if with_struck or not trial.struck:
        return frame
    counts = np.ones(len(frame), dtype=bool)
    for strike in trial.struck:
        counts &= ((frame["element"] != strike.element) | (frame["round"] != strike.round)).to_numpy()
    return frame[counts]


def mountings_of(trial: Trial, frame: pd.DataFrame) -> tuple[Mountings, Codes]:
    """The mountings, and the index of the mounting of every row.

    `frame` is that of `AssignedRounds`. Raises ValueError for an element that the trial does not name.
    """
    element = codes_in(frame["element"], [element.id for element in trial.elements])
    if (element < 0).any():
        raise ValueError("the readings name an element that the trial does not; use with_names_of first")
    rounds, round_index = np.unique(frame["round"].to_numpy(dtype=np.int64), return_inverse=True)
    ordinal = frame["mounting"].to_numpy(dtype=np.int64)
    width, columns = int(ordinal.max(initial=0)) + 1, max(1, len(rounds))
    row_mounting, keys = pd.factorize((element * columns + round_index) * width + ordinal, sort=True)
    runs, first, run = np.unique(np.asarray(keys) // width, return_index=True, return_inverse=True)
    mountings = Mountings(
        rounds=tuple(int(label) for label in rounds),
        element=runs[run] // columns,
        round=runs[run] % columns,
        run=run,
        first=first,
    )
    return mountings, np.asarray(row_mounting, dtype=np.int64)


def cells_of(frame: pd.DataFrame, mounting: Codes, channels: Sequence[str], *, lowest: float | None) -> Cells:
    """The cells of the rows, the mounting of each row given; `lowest` is that of a bounded meter, else None.

    Raises ValueError for a channel that is not among `channels`.
    """
    channel = codes_in(frame["channel"], channels)
    if (channel < 0).any():
        raise ValueError("the readings name a channel that the trial does not; use with_names_of first")
    value = frame["value"].to_numpy(dtype=np.float64)
    received = np.isfinite(value)
    level = value if lowest is None else np.where(received, value, lowest)
    heard = np.isfinite(level)
    columns = max(1, len(channels))
    index, keys = pd.factorize(mounting * columns + channel, sort=True)
    size = len(keys)
    least, most = np.full(size, np.inf), np.full(size, -np.inf)
    np.fmin.at(least, index, level)
    np.fmax.at(most, index, level)
    return Cells(
        mounting=np.asarray(keys, dtype=np.int64) // columns,
        channel=np.asarray(keys, dtype=np.int64) % columns,
        level=ordered_means(level, index, size),
        heard=ordered_means(level[heard], index[heard], size),
        least=least,
        most=most,
        received=np.bincount(index[received], minlength=size),
        scans=np.bincount(index, minlength=size),
    )
