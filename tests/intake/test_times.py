"""Times of scans."""

import pandas as pd
import pytest

from service.intake.times import nanoseconds


@pytest.mark.parametrize(
    "text",
    [
        "2026-05-12T14:30:00Z",
        "2026-05-12t14:30:00z",
        "2026-05-12 14:30:00+02:00",
        "2026-05-12T14:30:00-09:30",
        "2026-05-12T14:30:00.5Z",
        "2026-05-12T14:30:00.123456789+02:00",
        "2000-02-29T23:59:59Z",
    ],
)
def test_times_with_a_zone_are_read_as_pandas_reads_them(text):
    assert nanoseconds(text) == pd.Timestamp(text).value


@pytest.mark.parametrize(
    "text",
    [
        "2026-05-12T14:30:00",
        "2026-05-12",
        "14:30",
        "2026-05-12T14:30Z",
        "2026-02-29T14:30:00Z",
        "2026-05-12T24:00:00Z",
        "2026-05-12T14:30:60Z",
        "2026-05-12T14:30:00+99:00",
        "20260512T143000Z",
        "2026-05-12T14:30:00.1234567890Z",
        "1066-05-12T14:30:00Z",
        "9999-05-12T14:30:00Z",
        "٢٠٢٦-05-12T14:30:00Z",
    ],
)
def test_what_is_no_time_with_a_zone_is_refused(text):
    assert nanoseconds(text) is None
