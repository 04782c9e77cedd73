"""Readings as columns of numbers and the texts that these stand for: kept, stacked and compared."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from service.trial.codes import Codes, codes_in, combined, names_of
from service.trial.readings_table import COLUMNS, TEXT_COLUMNS
from service.trial.rounds import MOUNTINGS, ROUND_COLUMN, ROW_ORDER, TIMES

NO_ROUND = -1
NO_TIME = int(np.iinfo(np.int64).min)


@dataclass(frozen=True, eq=False)
class ReadingColumns:
    """Columns of one length: codes of the texts in `names` (-1: none), `round` (-1: none), `at` (nanoseconds
    since 1970 UTC, NO_TIME: none), `value` (NaN: nothing found) and `row`."""

    arrays: Mapping[str, NDArray[Any]]
    names: Mapping[str, Sequence[str]]

    def __len__(self) -> int:
        return len(self.arrays["value"])

    def rows(self, chosen: NDArray[Any]) -> "ReadingColumns":
        """Some of the rows."""
        return ReadingColumns({name: array[chosen] for name, array in self.arrays.items()}, self.names)

    def rounds_from(self) -> str:
        """What rounds are taken from: the first of the columns that decide which is filled."""
        if not len(self) or (self.arrays["round"] != NO_ROUND).all():
            return ROUND_COLUMN
        if (self.arrays["mounting"] >= 0).all():
            return MOUNTINGS
        return TIMES if (self.arrays["at"] != NO_TIME).all() else ROW_ORDER


def columns_of(frame: pd.DataFrame) -> ReadingColumns:
    """The columns of a readings table."""
    names = {name: names_of(frame[name]) for name in TEXT_COLUMNS}
    arrays: dict[str, NDArray[Any]] = {name: codes_in(frame[name], names[name]) for name in TEXT_COLUMNS}
    arrays["round"] = frame["round"].fillna(NO_ROUND).to_numpy(dtype=np.int64)
    arrays["value"] = frame["value"].to_numpy(dtype=np.float64)
    times = frame["at"].dt.tz_localize(None).to_numpy(dtype="datetime64[ns]")
    arrays["at"] = times.view(np.int64)
    arrays["row"] = frame["row"].to_numpy(dtype=np.int64)
    return ReadingColumns(arrays, names)


def frame_of(columns: ReadingColumns) -> pd.DataFrame:
    """The readings table of the columns."""
    frame = pd.DataFrame({name: _categories(columns, name) for name in TEXT_COLUMNS})
    rounds = columns.arrays["round"].astype(np.int64)
    frame["round"] = pd.arrays.IntegerArray(rounds, rounds == NO_ROUND)
    frame["value"] = columns.arrays["value"]
    frame["received"] = np.isfinite(columns.arrays["value"])
    times = columns.arrays["at"].astype(np.int64).view("datetime64[ns]")
    frame["at"] = pd.DatetimeIndex(times).tz_localize("UTC")
    frame["row"] = columns.arrays["row"].astype(np.int64)
    return frame[list(COLUMNS)]


def stacked(parts: Sequence[ReadingColumns]) -> ReadingColumns:
    """The parts under each other, their texts in one numbering."""
    names = {name: sorted({text for part in parts for text in part.names[name]}) for name in TEXT_COLUMNS}
    arrays = {}
    for name in ("element", "channel", "rf_channel", "run", "mounting", "round", "value", "at", "row"):
        columns = [_renumbered(part, name, names) for part in parts]
        empty = np.empty(0, dtype=np.float64 if name == "value" else np.int64)
        arrays[name] = np.concatenate([*columns, empty])
    return ReadingColumns(arrays, names)


def distinct_runs(columns: ReadingColumns) -> list[list[str]]:
    """The runs (element, and what tells its round, "" where only the time does), by element and place."""
    element, source = columns.arrays["element"], columns.rounds_from()
    if source not in {ROUND_COLUMN, MOUNTINGS}:
        return [[columns.names["element"][code], ""] for code in np.sort(pd.unique(element)).tolist()]
    place = columns.arrays["round" if source == ROUND_COLUMN else "mounting"]
    width = int(place.max(initial=0)) + 1
    runs = np.sort(pd.unique(element * width + place)).tolist()
    labels = columns.names["mounting"]
    return [
        [
            columns.names["element"][run // width],
            labels[run % width] if source == MOUNTINGS else str(run % width),
        ]
        for run in runs
    ]


def distinct_channels(columns: ReadingColumns) -> list[list[str | None]]:
    """Each channel with its RF channel, None where the readings do not say it."""
    names, rf_names = columns.names["channel"], [*columns.names["rf_channel"], None]
    rf_of = np.full(len(names), -1, dtype=np.int64)
    np.maximum.at(rf_of, columns.arrays["channel"], columns.arrays["rf_channel"])
    return [[name, rf_names[code]] for name, code in zip(names, rf_of, strict=True)]


def cells(columns: ReadingColumns) -> Codes:
    """One number for each different (element, round, channel).

    Where no round is given the mounting stands for it, or the time, by which rounds are then told.
    """
    source = columns.rounds_from()
    place = {ROUND_COLUMN: "round", MOUNTINGS: "mounting", TIMES: "at"}.get(source, "row")
    run = combined(_numbered(columns, "element"), _numbered(columns, place))
    return combined(run, _numbered(columns, "channel"))


def scans(columns: ReadingColumns) -> Codes:
    """One number for each different cell, mounting, run and time: readings that are the same scan."""
    numbers = cells(columns)
    for name in ("mounting", "run", "at"):
        numbers = combined(numbers, _numbered(columns, name))
    return numbers


def _numbered(columns: ReadingColumns, name: str) -> Codes:
    return np.asarray(pd.factorize(columns.arrays[name])[0], dtype=np.int64)


def _renumbered(part: ReadingColumns, name: str, names: Mapping[str, Sequence[str]]) -> NDArray[Any]:
    if name not in names:
        return part.arrays[name]
    place = {text: code for code, text in enumerate(names[name])}
    table = np.array([place[text] for text in part.names[name]] + [-1], dtype=np.int64)
    return np.asarray(table[part.arrays[name]])


def _categories(columns: ReadingColumns, name: str) -> pd.Categorical:
    """The texts that occur, by code point."""
    codes = columns.arrays[name]
    occurring = np.flatnonzero(np.bincount(codes + 1, minlength=1)[1:])
    texts = sorted(columns.names[name][code] for code in occurring.tolist())
    place = {text: index for index, text in enumerate(texts)}
    table = np.array([place.get(text, -1) for text in columns.names[name]] + [-1], dtype=np.int64)
    return pd.Categorical.from_codes(table[codes], categories=pd.Index(texts, dtype=object))
