"""The readings as one table, a row for each cell that was scanned."""

from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pandas as pd

from service.errors import Fault
from service.trial.places import brief, pointer

TEXT_COLUMNS = ("element", "channel", "rf_channel", "run", "mounting")
COLUMNS = ("element", "round", "channel", "value", "received", "rf_channel", "at", "run", "mounting", "row")


@dataclass(frozen=True)
class Readings:
    """Readings and how they were understood.

    `frame` has the columns COLUMNS: element, channel (categories of text, or plain text), round (Int64, NA
    when not given), value (float64 in meter units, NaN: scanned and nothing found), received (bool),
    rf_channel, run, mounting (categories of text, missing when not given), at (UTC, NaT when not given) and
    row (line of the file, or index in the JSON list). A cell that was not scanned has no row. The order of
    the rows counts only where neither round, at nor mounting is given.

    `read_as` is the JSON-ready account of how the source was understood.
    """

    frame: pd.DataFrame
    read_as: dict[str, Any] = field(default_factory=dict)

    def fault(self, position: int, column: str, detail: str) -> Fault:
        """A fault of the reading at `position` of the frame, placed as its source counts."""
        row = int(self.frame["row"].iloc[position])
        value = self.frame[column].iloc[position]
        plain = value.item() if isinstance(value, np.generic) else str(value)
        given = None if pd.isna(value) else brief(plain)
        in_json = self.read_as.get("media_type") == "application/json"
        return fault_of_reading(row, column, detail, given=given, in_json=in_json)


def fault_of_reading(row: int, column: str, detail: str, *, given: object, in_json: bool) -> Fault:
    """A fault of one field of a reading: by JSON pointer where the readings came in JSON, else by line."""
    if in_json:
        return Fault(detail, pointer=pointer("readings", row, column), given=given)
    return Fault(detail, row=row, column=column, given=given)
