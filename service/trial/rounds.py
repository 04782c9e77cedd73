"""Which runs make a round: from what the readings say, else from the order in which elements were mounted."""

from dataclasses import dataclass

import numpy as np
import pandas as pd

from service.errors import BadInput, Fault
from service.trial.codes import Codes, codes_in, combined, labels_in_order, names_of
from service.trial.readings_table import Readings

ROUND_COLUMN = "round column"
MOUNTINGS = "mountings"
TIMES = "times"
ROW_ORDER = "order of rows"


@dataclass(frozen=True)
class AssignedRounds:
    """The readings with their rounds.

    `frame` is that of the readings with `round` (int64) in every row and `mounting` (int64), which counts the
    mountings of each element through the whole trial from 1. `rounds_from` tells what the rounds were taken
    from: "round column", "mountings", "times" or "order of rows".
    """

    frame: pd.DataFrame
    rounds_from: str


def assign_rounds(readings: Readings) -> AssignedRounds:
    """Give every reading its round and its mounting.

    With a round, the readings of an element in it are one mounting, or one for each label in `mounting`.
    Without, the n-th mounting of an element is its round n, where mountings are told by their label (in order
    of their first time, else of the labels), else by time, with no other element between, else by the order
    of the rows. Where no cell repeats in rows without any of these, each element was put on once: an order by
    channel is then a way of sorting, not of mounting.

    Raises BadInput where a column that decides is filled in some rows only.
    """
    frame = readings.frame
    faults = _half_filled(readings)
    if faults:
        raise BadInput(faults)
    elements = codes_in(frame["element"], names_of(frame["element"]))
    rounds_from, key = _mounting_keys(frame, elements)
    ordinals = _ordinals(elements, key)
    by_column = rounds_from == ROUND_COLUMN
    rounds = frame["round"].to_numpy(dtype=np.int64) if by_column else ordinals
    return AssignedRounds(frame.assign(round=rounds, mounting=ordinals), rounds_from)


def _half_filled(readings: Readings) -> list[Fault]:
    """One fault for each deciding column that only some rows fill; a later column decides only without an
    earlier one."""
    for column in ("round", "mounting", "at"):
        missing = readings.frame[column].isna().to_numpy()
        if missing.any() and not missing.all():
            detail = (
                f"This reading has no {column}, others have one ({int(missing.sum())} of {len(missing)} have "
                f"none). Give the {column} in every row or in none."
            )
            return [readings.fault(int(np.argmax(missing)), column, detail)]
        if not missing.any():
            return []
    return []


def _mounting_keys(frame: pd.DataFrame, elements: Codes) -> tuple[str, Codes]:
    """What the rounds are taken from, and a key for each row: the same key for the same mounting of an
    element, and keys of an element ascend with its mountings."""
    if len(frame) == 0 or frame["round"].notna().all():
        labels = labels_in_order(frame["mounting"])
        label = codes_in(frame["mounting"], labels)
        return ROUND_COLUMN, frame["round"].to_numpy(dtype=np.int64) * (len(labels) + 1) + label + 1
    if frame["mounting"].notna().all():
        return MOUNTINGS, _by_label(frame, elements)
    if frame["at"].notna().all():
        return TIMES, _by_time(frame, elements)
    return ROW_ORDER, _by_row(frame, elements)


def _ordinals(elements: Codes, key: Codes) -> Codes:
    """Number the different keys of each element from 1, in ascending order."""
    width = int(key.max(initial=0)) + 1
    place, different = pd.factorize(elements * width + key, sort=True)
    element = np.asarray(different, dtype=np.int64) // width
    return np.asarray(np.arange(1, len(element) + 1) - np.searchsorted(element, element))[place]


def _by_label(frame: pd.DataFrame, elements: Codes) -> Codes:
    labels = labels_in_order(frame["mounting"])
    label = codes_in(frame["mounting"], labels)
    timed = frame["at"].notna().all()
    times = frame["at"].astype("int64").to_numpy() if timed else np.zeros(len(frame), dtype=np.int64)
    mounting, _ = pd.factorize(elements * len(labels) + label)
    first = pd.DataFrame({"label": label, "time": times, "mounting": mounting}).groupby("mounting").min()
    rank = np.lexsort((first["label"], first["time"])).argsort()
    return np.asarray(rank[mounting], dtype=np.int64)


def _by_time(frame: pd.DataFrame, elements: Codes) -> Codes:
    """Blocks of readings in order of time with no other element between; at one instant the element that was
    on already comes first."""
    times = frame["at"].astype("int64").to_numpy()
    instant, _ = pd.factorize(times, sort=True)
    width = int(elements.max(initial=0)) + 1
    place, met = pd.factorize(instant * width + elements, sort=True)
    blocks = np.zeros(len(met), dtype=np.int64)
    on_mount, block = -1, -1
    for at_once in np.split(np.arange(len(met)), np.flatnonzero(np.diff(np.asarray(met) // width)) + 1):
        order = sorted(at_once, key=lambda index: (met[index] % width != on_mount, met[index]))
        for index in order:
            block += int(met[index] % width != on_mount)
            on_mount = int(met[index] % width)
            blocks[index] = block
    return np.asarray(blocks[place])


def _by_row(frame: pd.DataFrame, elements: Codes) -> Codes:
    runs = codes_in(frame["run"], names_of(frame["run"]))
    channels = codes_in(frame["channel"], names_of(frame["channel"]))
    scan = combined(elements, runs)
    if (runs < 0).all():
        if not pd.Series(combined(elements, channels)).duplicated().any():
            return np.zeros(len(frame), dtype=np.int64)
        return np.cumsum(np.diff(elements, prepend=-1) != 0)
    first_rows = np.unique(scan, return_index=True)[1]
    order = np.sort(first_rows)
    block = np.cumsum(np.diff(elements[order], prepend=-1) != 0)
    return np.asarray(block[np.searchsorted(order, first_rows)[scan]])


def repeated_cells(assigned: AssignedRounds) -> tuple[Codes, Codes]:
    """Positions of the readings that repeat a cell of the same mounting with the same `at` and `run`, and the
    position at which each of those cells stands first."""
    frame = assigned.frame
    cell = combined(codes_in(frame["element"], names_of(frame["element"])), frame["mounting"].to_numpy())
    cell = combined(cell, codes_in(frame["channel"], names_of(frame["channel"])))
    if pd.Series(cell).duplicated().any():
        cell = combined(cell, codes_in(frame["run"], names_of(frame["run"])))
        cell = combined(cell, np.asarray(pd.factorize(frame["at"])[0], dtype=np.int64))
    again = np.flatnonzero(pd.Series(cell).duplicated())
    if not again.size:
        return again, again
    first = np.unique(cell, return_index=True)[1]
    return again, np.asarray(first[cell[again]])
