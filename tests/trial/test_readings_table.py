"""The table of readings."""

import pandas as pd
import pytest

from service.trial.readings_table import COLUMNS, Readings
from tests.trial.made_frames import readings_frame


def test_fields_left_out_are_missing():
    frame = readings_frame(
        [{"element": "01", "channel": "NA", "value": 3}, {"element": "1", "channel": "NA"}]
    )
    assert list(frame.columns) == list(COLUMNS)
    assert list(frame["element"]) == ["01", "1"]
    assert list(frame["channel"]) == ["NA", "NA"]
    assert list(frame["received"]) == [True, False]
    assert frame[["round", "rf_channel", "at", "run", "mounting"]].isna().all().all()
    assert str(frame["at"].dtype) == "datetime64[ns, UTC]"


def test_an_empty_table_has_the_same_columns():
    empty, full = readings_frame([]), readings_frame([{"element": "a", "channel": "x", "value": 1}])
    assert list(empty.dtypes.astype(str)) == list(full.dtypes.astype(str))


def test_a_field_that_is_no_column_is_refused():
    with pytest.raises(KeyError, match="signal"):
        readings_frame([{"element": "a", "signal": 3}])


@pytest.mark.parametrize(
    ("media_type", "place"),
    [("application/json", {"pointer": "#/readings/7/round"}), ("text/csv", {"row": 7, "column": "round"})],
)
def test_a_fault_is_placed_as_its_source_counts(media_type, place):
    frame = readings_frame([{"element": "a", "channel": "x", "round": 2}]).assign(row=7)
    fault = Readings(frame, {"media_type": media_type}).fault(0, "round", "No.")
    assert fault.document() == place | {"given": 2, "detail": "No."}


def test_a_missing_field_gives_nothing_back():
    frame = readings_frame([{"element": "a", "channel": "x", "at": pd.Timestamp("2026-05-12T10:00Z")}])
    assert Readings(frame).fault(0, "round", "No.").given is None
    assert Readings(frame).fault(0, "at", "No.").given == "2026-05-12 10:00:00+00:00"
