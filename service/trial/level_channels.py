"""Which channels and RF channels enter the level analysis, and why the others do not.

One set of RF channels serves the whole trial, or elements would be compared on different signals.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from service.trial.cells import Cells, Mountings
from service.trial.codes import Codes
from service.trial.rf_channels import RfChannels
from service.trial.trial import Meter

NOT_SCANNED = "not scanned in every run"
NOTHING_RECEIVED = "nothing received on an unbounded meter"
SAME_END = "same end of the scale in every run"
MOST_RUNS_LISTED = 100

Mask = NDArray[np.bool_]


@dataclass(frozen=True)
class LeftOut:
    """An RF channel, or one channel of an RF channel that stayed, outside the level analysis.

    `runs` are the runs (element, round) that cost it its place, at most 100 of them; `run_count` is how many
    there are. For an RF channel that was not scanned throughout they are those of its channel with the
    fewest gaps: repeating them brings it in.
    """

    name: str
    why: str
    runs: tuple[tuple[str, int], ...] = ()
    run_count: int = 0


@dataclass(frozen=True, eq=False)
class LevelChannels:
    """What enters the level analysis and what does not, with why.

    `members` holds for each RF channel that entered its index and the indices of its channels that entered.
    `channels_left_out` are channels that left an RF channel which stayed.
    """

    members: tuple[tuple[int, Codes], ...]
    left_out: tuple[LeftOut, ...]
    channels_left_out: tuple[LeftOut, ...]


@dataclass(frozen=True, eq=False)
class ScanRecord:
    """What decides, over Q runs and C channels.

    `runs` names the runs (element, round). Masks of shape (Q, C): `gaps`, not scanned in some mounting of the
    run; `silent`, some scan found nothing. `least` and `most`, shape (C,), are the ends of the levels.
    """

    runs: tuple[tuple[str, int], ...]
    gaps: Mask
    silent: Mask
    least: NDArray[np.float64]
    most: NDArray[np.float64]


def scan_record(elements: Sequence[str], channels: int, *, mountings: Mountings, cells: Cells) -> ScanRecord:
    """The record of all cells of a trial."""
    first = mountings.first
    shape = (len(first), channels)
    place = mountings.run[cells.mounting] * channels + cells.channel
    scanned = np.bincount(place, minlength=shape[0] * channels).reshape(shape)
    needed = np.bincount(mountings.run, minlength=shape[0])[:, None]
    silent = np.zeros(shape, dtype=bool)
    silent.ravel()[place[cells.received < cells.scans]] = True
    least, most = np.full(channels, np.inf), np.full(channels, -np.inf)
    np.fmin.at(least, cells.channel, cells.least)
    np.fmax.at(most, cells.channel, cells.most)
    runs = zip(mountings.element[first], mountings.round[first], strict=True)
    labels = tuple((elements[element], mountings.rounds[number]) for element, number in runs)
    return ScanRecord(labels, scanned < needed, silent, least, most)


def level_channels(record: ScanRecord, carriers: RfChannels, meter: Meter) -> LevelChannels:
    """Sift the RF channels of a trial; the channels of `carriers` are the columns of the record."""
    channels = list(carriers.of)
    place = {channel: index for index, channel in enumerate(channels)}
    entered: list[tuple[int, Codes]] = []
    left_out: list[LeftOut] = []
    channels_left_out: list[LeftOut] = []
    for index, (name, group) in enumerate(carriers.groups().items()):
        columns = np.array([place[channel] for channel in group], dtype=np.int64)
        left = _why_left_out(record, name, columns, meter)
        whole = _throughout(record, columns)
        if left is not None:
            left_out.append(left)
            continue
        entered.append((index, columns[whole]))
        gone = columns[~whole]
        channels_left_out += [_left(record, channels[c], NOT_SCANNED, record.gaps[:, c]) for c in gone]
    return LevelChannels(tuple(entered), tuple(left_out), tuple(channels_left_out))


def _throughout(record: ScanRecord, columns: Codes) -> Mask:
    """Which of the channels were scanned in every mounting."""
    return np.asarray(~record.gaps[:, columns].any(axis=0))


def _why_left_out(record: ScanRecord, name: str, columns: Codes, meter: Meter) -> LeftOut | None:
    """Why the RF channel that consists of these channels is left out, None if it is not."""
    whole = columns[_throughout(record, columns)]
    if not len(whole) or not len(record.runs):
        gaps = record.gaps[:, columns]
        return _left(record, name, NOT_SCANNED, gaps[:, np.argmin(gaps.sum(axis=0))])
    silent = np.asarray(record.silent[:, whole].any(axis=1))
    if meter.lowest is None and silent.any():
        return _left(record, name, NOTHING_RECEIVED, silent)
    least, most = record.least[whole].min(), record.most[whole].max()
    if least == most and least in (meter.lowest, meter.highest):
        return LeftOut(name, SAME_END)
    return None


def _left(record: ScanRecord, name: str, why: str, costing: Mask) -> LeftOut:
    """`costing` are the runs, shape (Q,), that cost it its place."""
    listed = np.flatnonzero(costing)[:MOST_RUNS_LISTED]
    return LeftOut(name, why, tuple(record.runs[run] for run in listed), int(costing.sum()))
