"""What must hold of the readings as a whole: rounds that can be told, each cell once, not too many."""

from dataclasses import replace

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from service.errors import BadInput, Fault
from service.intake.draft import NO_ROUND, Draft
from service.intake.faults import FaultList
from service.intake.headings import WIDE
from service.intake.times import NO_TIME
from service.intake.values import State
from service.settings import Limits
from service.trial.places import pointer
from service.trial.readings_table import Readings
from service.trial.rounds import ROW_ORDER, AssignedRounds, assign_rounds, repeated_cells

NAMING_COLUMNS = frozenset({"element", "channel"})
DECIDING_COLUMNS = frozenset({"round", "at", "run", "mounting"})


def check_rounds(readings: Readings, faults: FaultList, limits: Limits) -> AssignedRounds | None:
    """Note rounds that cannot be told, repeated cells, and more rounds than are taken.

    Gives the readings with their rounds, None where a fault elsewhere leaves some round in doubt. Nothing is
    noted that may be the consequence of such a fault: rows with a fault in a column that decides are left
    aside, and where the order of rows decides and some are missing, or where a heading is not what it was
    taken for, nothing is looked at.
    """
    if faults.heading_faulty:
        return None
    doubtful = faults.rows_of(DECIDING_COLUMNS)
    incomplete = bool(faults.rows_lost or faults.rows_of(NAMING_COLUMNS).size)
    try:
        assigned = assign_rounds(_without(readings, doubtful))
    except BadInput as error:
        faults.add(error.faults)
        return None
    if assigned.rounds_from == ROW_ORDER and (incomplete or doubtful.size):
        return None
    if readings.read_as["shape"] != WIDE:
        _check_repeats(assigned, faults)
    _check_size(assigned, faults, limits)
    return None if incomplete or doubtful.size else assigned


def _without(readings: Readings, rows: NDArray[np.int64]) -> Readings:
    if not rows.size:
        return readings
    frame = readings.frame
    return replace(readings, frame=frame[~frame["row"].isin(rows)])


def _check_size(assigned: AssignedRounds, faults: FaultList, limits: Limits) -> None:
    rounds, elements = assigned.frame["round"].nunique(), assigned.frame["element"].nunique()
    work = elements * (elements - 1) // 2 * rounds
    refuse_over("rounds", rounds, limits.rounds, faults=faults)
    refuse_over("pairs of elements times rounds", work, limits.pairs_times_rounds, faults=faults)


def refuse_over(what: str, number: int, most: int, *, faults: FaultList) -> None:
    """Note a number that passes its limit."""
    if number > most:
        detail = f"The trial has {number} {what}; at most {most} are taken. Split it into smaller trials."
        faults.add([Fault(detail, pointer=pointer("readings"), given=number)])


def check_cells_once(draft: Draft, faults: FaultList) -> None:
    """Refuse a cell that is once not scanned and once something else, or not scanned twice.

    Cells that were not scanned leave the table of readings, so that this is looked for before. Where neither
    round, at nor mounting is given, the order of rows tells the runs, and a cell may come again.
    """
    unscanned = draft.state == State.NOT_SCANNED
    if not unscanned.any() or faults.heading_faulty:
        return
    named = (draft.element.codes >= 0) & (draft.channel.codes >= 0)
    told = (draft.round != NO_ROUND) | (draft.at != NO_TIME) | (draft.mounting.codes >= 0)
    places = np.flatnonzero(named & told)
    codes = (draft.element.codes, draft.channel.codes, draft.round, draft.at, draft.run.codes)
    cells = pd.DataFrame(np.column_stack([*codes, draft.mounting.codes])[places])
    groups = cells.groupby(list(cells.columns), sort=False)
    cell, first = groups.ngroup().to_numpy(), groups.cumcount().to_numpy() == 0
    above = np.empty(len(places), dtype=np.int64)
    above[cell[first]] = draft.row[places[first]]
    lost = unscanned[places]
    scans_before = pd.Series(~lost).groupby(cell).cumsum().to_numpy() - ~lost
    again = np.flatnonzero(np.isin(cell, cell[lost]) & ~first & (lost | (scans_before == 0)))

    def told_of(index: int) -> tuple[str, str, object]:
        detail = (
            f"This cell was given already, in row {above[cell[again[index]]]}, and one of the two says that "
            "it was not scanned. Take one of the two out."
        )
        return "channel", detail, draft.channel.text(int(places[again[index]]))

    faults.at_rows(draft.row[places[again]], told_of)


def _check_repeats(assigned: AssignedRounds, faults: FaultList) -> None:
    """Refuse a cell that is given again without anything that tells the two apart.

    Told apart by at, run or mounting they are several scans, which are averaged. Where neither round, at, run
    nor mounting is given, rows of one element with another element between belong to different mountings. The
    wide form cannot repeat a cell unless it repeats a channel or a run, which is noted elsewhere.
    """
    again, first = repeated_cells(assigned)
    rows = assigned.frame["row"].to_numpy()
    channels = assigned.frame["channel"]

    def told(index: int) -> tuple[str, str, object]:
        detail = (
            f"This cell was given already, in row {rows[first[index]]}. Take one of the two out; where both "
            "are scans, tell them apart by at, run or mounting."
        )
        return "channel", detail, channels.iloc[again[index]]

    faults.at_rows(rows[again], told)
