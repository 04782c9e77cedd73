"""The table of a few readings given one by one."""

from collections.abc import Mapping, Sequence
from typing import Any

import pandas as pd

from service.trial.readings_table import COLUMNS, TEXT_COLUMNS


def readings_frame(rows: Sequence[Mapping[str, Any]]) -> pd.DataFrame:
    """The table of a few readings given one by one; fields that are left out are missing.

    `value` None or left out means that nothing was found. Raises KeyError for a field that is not a column.
    """
    unknown = {name for row in rows for name in row} - set(COLUMNS)
    if unknown:
        raise KeyError(*sorted(unknown))
    given = pd.DataFrame.from_records(list(rows), columns=list(COLUMNS))
    frame = pd.DataFrame(index=given.index)
    for name in TEXT_COLUMNS:
        frame[name] = given[name].astype(object).where(given[name].notna(), None).astype("category")
    frame["round"] = given["round"].astype("Int64")
    frame["value"] = given["value"].astype("float64")
    frame["received"] = frame["value"].notna()
    frame["at"] = pd.to_datetime(given["at"], utc=True).astype("datetime64[ns, UTC]")
    frame["row"] = range(len(frame))
    return frame[list(COLUMNS)]
