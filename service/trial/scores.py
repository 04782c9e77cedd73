"""The scores of a trial, the numbers that every comparison starts from.

Order of the arithmetic, so that another program gets the same bits: the scans of a mounting are averaged cell
by cell, then the channels of an RF channel, then the RF channels: the score of the mounting. The score of a
run is the mean over its mountings. Every mean is taken as `ordered_means` says.
"""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from service.trial.cells import Cells, Mountings, cells_of, counted_rows, mountings_of
from service.trial.level_channels import LeftOut, LevelChannels, level_channels, scan_record
from service.trial.ordered_means import Numbers, ordered_means
from service.trial.reading_step import reading_step
from service.trial.rf_channels import RfChannels, rf_channels
from service.trial.run_channels import RunChannels, run_channels
from service.trial.trial import Trial

Counts = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class ScoreTable:
    """Scores and what they were made from: K elements, R rounds, M RF channels that entered.

    elements: ids in the order of the trial, also those without a run
    rounds: labels, ascending, of the rounds with a run that counts
    rf_channels: the M that entered; all_rf_channels: every one, in the order of the trial's channels
    scores: (K, R) in meter units, NaN where there is no run or nothing entered
    cells: (K, R, M) level of each run on each RF channel, the mean over its mountings
    mountings: (K, R) number of mountings, 0 where there is no run
    mounting_scores: element index, round index and score, one entry a mounting, three arrays
    left_out, channels_left_out: see `level_channels`
    received: (K, R, all RF channels) 1 where a scan of the run found one of its channels, 0 where it was
        scanned and none was found, NaN where it was not scanned
    by_channel: the same runs channel by channel, and the totals
    resolution, resolution_from: the step of the meter, None and "none" where no reading tells
    """

    elements: tuple[str, ...]
    rounds: tuple[int, ...]
    rf_channels: tuple[str, ...]
    all_rf_channels: tuple[str, ...]
    scores: Numbers
    cells: Numbers
    mountings: Counts
    mounting_scores: tuple[Counts, Counts, Numbers]
    left_out: tuple[LeftOut, ...]
    channels_left_out: tuple[LeftOut, ...]
    received: Numbers
    by_channel: RunChannels
    resolution: float | None
    resolution_from: str


def score_table(trial: Trial, frame: pd.DataFrame, *, with_struck: bool = False) -> ScoreTable:
    """The scores of a trial's readings, struck runs left out unless `with_struck`.

    `trial` is complete (`with_names_of`), `frame` that of `AssignedRounds`. Raises ValueError for an element
    or a channel that the trial does not name.
    """
    elements = tuple(element.id for element in trial.elements)
    carriers = rf_channels(trial)
    rows = counted_rows(trial, frame, with_struck=with_struck)
    mountings, row_mounting = mountings_of(trial, rows)
    cells = cells_of(rows, row_mounting, list(carriers.of), lowest=trial.meter.lowest)
    record = scan_record(elements, len(carriers.of), mountings=mountings, cells=cells)
    entered = level_channels(record, carriers, trial.meter)
    levels = _mounting_levels(mountings, cells, entered)
    shape = (len(elements), len(mountings.rounds))
    place = mountings.element * max(1, shape[1]) + mountings.round
    mounting_scores = _row_means(levels)
    by_channel = run_channels(mountings, cells, channels=tuple(carriers.of), elements=len(elements))
    step, step_from = reading_step(trial.meter, frame["value"].to_numpy(dtype=np.float64))
    return ScoreTable(
        elements=elements,
        rounds=mountings.rounds,
        rf_channels=tuple(carriers.names[index] for index, _ in entered.members),
        all_rf_channels=carriers.names,
        scores=ordered_means(mounting_scores, place, shape[0] * shape[1]).reshape(shape),
        cells=_run_cells(levels, place, shape),
        mountings=np.bincount(place, minlength=shape[0] * shape[1]).reshape(shape),
        mounting_scores=(mountings.element, mountings.round, mounting_scores),
        left_out=entered.left_out,
        channels_left_out=entered.channels_left_out,
        received=_received(by_channel.received, carriers),
        by_channel=by_channel,
        resolution=step,
        resolution_from=step_from,
    )


def _mounting_levels(mountings: Mountings, cells: Cells, entered: LevelChannels) -> Numbers:
    """The level of each mounting on each RF channel that entered, shape (N, M)."""
    size = 1 + int(cells.channel.max(initial=-1))
    slot = np.full(size, -1, dtype=np.int64)
    for index, (_, channels) in enumerate(entered.members):
        slot[channels] = index
    width = len(entered.members)
    used = slot[cells.channel] >= 0
    place = cells.mounting[used] * width + slot[cells.channel[used]]
    height = len(mountings.element)
    return ordered_means(cells.level[used], place, height * width).reshape(height, width)


def _row_means(levels: Numbers) -> Numbers:
    """The ordered mean of each row, NaN where nothing entered."""
    height, width = levels.shape
    return ordered_means(levels.ravel(), np.repeat(np.arange(height), width), height)


def _run_cells(levels: Numbers, place: Counts, shape: tuple[int, int]) -> Numbers:
    width = levels.shape[1]
    target = (place[:, None] * width + np.arange(width)).ravel()
    return ordered_means(levels.ravel(), target, shape[0] * shape[1] * width).reshape(*shape, width)


def _received(by_channel: Numbers, carriers: RfChannels) -> Numbers:
    """From channels, (K, R, C), to RF channels: the best of the channels of each."""
    place = {channel: index for index, channel in enumerate(carriers.of)}
    merged = np.full((*by_channel.shape[:2], len(carriers.names)), np.nan)
    for index, group in enumerate(carriers.groups().values()):
        columns = [place[channel] for channel in group]
        merged[:, :, index] = np.fmax.reduce(by_channel[:, :, columns], axis=2)
    return merged
