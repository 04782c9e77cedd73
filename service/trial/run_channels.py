"""The runs channel by channel: levels, reception, and the sum that practitioners go by."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from service.trial.cells import Cells, Mountings
from service.trial.codes import Codes
from service.trial.ordered_means import Numbers, ordered_means, ordered_sum


@dataclass(frozen=True, eq=False)
class RunChannels:
    """K elements, R rounds, C channels in the order of the trial; NaN where nothing was scanned.

    levels: (K, R, C) level of a run on a channel in meter units. A scan that found nothing counts as the
        lowest level of a bounded meter and is left out on an unbounded one.
    received: (K, R, C) 1 where a scan of the run found the channel, 0 where none did
    scans: (K, R) most scans of one cell, 0 where there is no run
    means: (K, C) mean over the rounds of the levels, the "mean reading" of a channel
    least, most: (K, C) ends of the single readings, a scan that found nothing as in `levels`
    """

    channels: tuple[str, ...]
    levels: Numbers
    received: Numbers
    scans: Codes
    means: Numbers
    least: Numbers
    most: Numbers

    def was_run(self) -> NDArray[np.bool_]:
        """Which elements have a run at all, shape (K,)."""
        return np.asarray((self.scans > 0).any(axis=1))

    def shared_channels(self) -> tuple[int, ...]:
        """The channels (indices) on which every element that was run at all has a mean."""
        shared = np.isfinite(self.means[self.was_run()]).all(axis=0)
        return tuple(int(index) for index in np.flatnonzero(shared))

    def totals(self) -> Numbers:
        """For each element the sum over the shared channels of its mean readings, shape (K,); NaN: no run."""
        shared = list(self.shared_channels())
        sums = [ordered_sum(row) for row in self.means[:, shared]]
        return np.where(self.was_run(), sums, np.nan)


def run_channels(
    mountings: Mountings, cells: Cells, *, channels: tuple[str, ...], elements: int
) -> RunChannels:
    """The runs of a trial channel by channel."""
    shape = (elements, len(mountings.rounds), len(channels))
    size = shape[0] * shape[1] * shape[2]
    run = (mountings.element * shape[1] + mountings.round)[cells.mounting]
    place = run * shape[2] + cells.channel
    known = np.isfinite(cells.heard)
    levels = ordered_means(cells.heard[known], place[known], size).reshape(shape)
    found = np.bincount(place, weights=cells.received, minlength=size).reshape(shape) > 0
    scans = np.bincount(place, weights=cells.scans, minlength=size).reshape(shape)
    least, most = _ends(mountings, cells, shape)
    return RunChannels(
        channels=channels,
        levels=levels,
        received=np.where(scans > 0, found.astype(np.float64), np.nan),
        scans=scans.max(axis=2, initial=0).astype(np.int64),
        means=_means_over_rounds(levels),
        least=least,
        most=most,
    )


def _means_over_rounds(levels: Numbers) -> Numbers:
    known = np.isfinite(levels)
    element, _, channel = np.nonzero(known)
    shape = (levels.shape[0], levels.shape[2])
    return ordered_means(levels[known], element * shape[1] + channel, shape[0] * shape[1]).reshape(shape)


def _ends(mountings: Mountings, cells: Cells, shape: tuple[int, int, int]) -> tuple[Numbers, Numbers]:
    place = mountings.element[cells.mounting] * shape[2] + cells.channel
    least, most = np.full(shape[0] * shape[2], np.inf), np.full(shape[0] * shape[2], -np.inf)
    np.fmin.at(least, place, cells.least)
    np.fmax.at(most, place, cells.most)
    known = least <= most
    least, most = np.where(known, least, np.nan), np.where(known, most, np.nan)
    return least.reshape(shape[0], shape[2]), most.reshape(shape[0], shape[2])
