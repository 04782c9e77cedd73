"""Batches of which every row is wrong: all are counted, and why is looked for as often as it is told.

The work is counted, not timed, which is the same on every machine.
"""

import json
import sys

import pytest

from service.errors import MOST_FAULTS, BadInput
from service.intake import json_readings, text_table, values
from service.intake.batch import read_batch
from service.intake.marks import Marks
from service.settings import Limits

ROWS = 5000
BARS = {"meter": {"unit": "bars", "highest": 10}}
CSV, JSON = "text/csv", "application/json"
HEADING = "element,round,channel,value"


def table(row: str, heading: str = HEADING) -> bytes:
    """A table with a row for each number: no two cells of a column are alike."""
    return "\n".join([heading, *(row.format(n=n) for n in range(ROWS)), ""]).encode()


def listed(**fields: str) -> bytes:
    rows = [{name: value.format(n=n) for name, value in fields.items()} for n in range(ROWS)]
    return json.dumps(rows).encode()


BODIES = {
    "no number": (CSV, table("e,1,c{n},x{n}"), values, "remedy", 100),
    "a day": (CSV, table("e,1,c{n},2026-05-12 {n}"), values, "remedy", 100),
    "beyond the scale": (CSV, table("e,1,c{n},{n}.75e3"), values, "remedy", 0),
    "no round": (CSV, table("e,r{n},c,5"), values, "remedy", 0),
    "cells that lack": (CSV, table("e,{n}"), text_table, "_ragged", 500),  # a hundred a lot of a thousand
    "wide": (CSV, table("c{n},x{n}", "channel,a@1"), values, "remedy", 100),
    "no key": (JSON, listed(elem="e{n}", channel="c"), json_readings, "Fault", 300),
    "no objects": (JSON, json.dumps(list(range(ROWS))).encode(), json_readings, "Fault", 100),
    "no number in JSON": (JSON, listed(element="e", channel="c{n}", value="x{n}"), values, "remedy", 0),
}
CALLS_A_ROW = 40


class Counted:
    """Stands in the place of a function and counts its calls."""

    def __init__(self, function):
        self.function, self.count = function, 0

    def __call__(self, *arguments, **named):
        self.count += 1
        return self.function(*arguments, **named)


def refusal(media_type: str, body: bytes) -> BadInput:
    try:
        read_batch(body, media_type, trial=BARS, marks=Marks(), limits=Limits())
    except BadInput as refused:
        return refused
    raise AssertionError("it was taken")


@pytest.mark.parametrize("case", BODIES.values(), ids=BODIES)
def test_why_is_looked_for_no_more_often_than_it_is_told(monkeypatch, case):
    media_type, body, place, name, most = case
    counted = Counted(getattr(place, name))
    monkeypatch.setattr(place, name, counted)
    calls = 0

    def called(_frame, event, _argument):
        nonlocal calls
        calls += event == "call"

    sys.setprofile(called)
    try:
        refused = refusal(media_type, body)
    finally:
        sys.setprofile(None)
    assert refused.count >= ROWS
    assert len(refused.faults) == MOST_FAULTS
    assert all(fault.detail and (fault.row or fault.pointer) for fault in refused.faults)
    assert counted.count <= most
    assert calls < CALLS_A_ROW * ROWS
