"""Readings as they were taken from the source, before they are a table: every form of input ends here."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from service.intake.columns import Codes, Column, empty_column
from service.intake.times import NO_TIME
from service.intake.values import State

NO_ROUND = -1


@dataclass(frozen=True, eq=False)
class Draft:
    """One entry a cell, in the order of the source; what was faulty is missing.

    `row` is the line of the file or the index in the list, `value` in meter units (NaN: none), `state` a
    `State`, `round` NO_ROUND and `at` NO_TIME where there is none. `heading` names the column that holds the
    value of entry i; `shift` is what was added to the values of the source.
    """

    row: Codes
    element: Column
    channel: Column
    value: NDArray[np.float64]
    state: NDArray[np.int8]
    round: Codes
    rf_channel: Column
    at: Codes
    run: Column
    mounting: Column
    heading: Callable[[int], str]
    shift: float = 0.0

    def frame(self) -> pd.DataFrame:
        """The readings table of the cells that were scanned and whose element and channel are known."""
        keep = (self.state != State.NOT_SCANNED) & (self.element.codes >= 0) & (self.channel.codes >= 0)
        rounds, times = self.round[keep], self.at[keep].view("datetime64[ns]")
        value = self.value[keep]
        return pd.DataFrame(
            {
                "element": self.element.take(keep).categories(),
                "round": pd.arrays.IntegerArray(rounds, rounds == NO_ROUND),
                "channel": self.channel.take(keep).categories(),
                "value": value,
                "received": np.isfinite(value),
                "rf_channel": self.rf_channel.take(keep).categories(),
                "at": pd.DatetimeIndex(times).tz_localize("UTC"),
                "run": self.run.take(keep).categories(),
                "mounting": self.mounting.take(keep).categories(),
                "row": self.row[keep],
            }
        )


def no_names(rows: int) -> Column:
    """A column that the source does not have."""
    return empty_column(rows)


def no_rounds(rows: int) -> Codes:
    """Rounds that the source does not give."""
    return np.full(rows, NO_ROUND, dtype=np.int64)


def no_times(rows: int) -> Codes:
    """Times that the source does not give."""
    return np.full(rows, NO_TIME, dtype=np.int64)
