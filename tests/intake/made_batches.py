"""Batches read in one call, and the faults of those that are refused."""

import json
from collections.abc import Mapping, Sequence
from typing import Any

import pytest

from service.errors import BadInput, Fault
from service.intake.batch import read_batch
from service.intake.marks import Marks
from service.settings import Limits
from service.trial.readings_table import Readings
from service.trial.trial import Trial

BARS = {"meter": {"unit": "bars", "highest": 10}}
CSV, TSV, JSON = "text/csv", "text/tab-separated-values", "application/json"


def batch(
    body: str | bytes,
    media_type: str = CSV,
    *,
    trial: Mapping[str, Any] | None = BARS,
    marks: Marks = Marks(),  # noqa: B008 (it is frozen)
    limits: Limits = Limits(),  # noqa: B008 (it is frozen)
) -> tuple[Trial, Readings]:
    """The trial and the readings of a table."""
    content = body.encode() if isinstance(body, str) else body
    return read_batch(content, media_type, trial=trial, marks=marks, limits=limits)


def json_batch(rows: Sequence[Any], **more: Any) -> tuple[Trial, Readings]:
    """The trial and the readings of a JSON body."""
    return batch(json.dumps({"trial": BARS, "readings": rows} | more), JSON, trial=None)


def caught(call: Any, *args: Any, **options: Any) -> BadInput:
    """The refusal of a batch."""
    with pytest.raises(BadInput) as refusal:
        call(*args, **options)
    return refusal.value


def faults_of(call: Any, *args: Any, **options: Any) -> tuple[Fault, ...]:
    """The faults of a batch that is refused."""
    return caught(call, *args, **options).faults


def only_fault(call: Any, *args: Any, **options: Any) -> Fault:
    """The one fault of a batch that is refused."""
    (fault,) = faults_of(call, *args, **options)
    return fault


def cells(readings: Readings) -> list[tuple[Any, ...]]:
    """Element, round, channel and value of every reading, sorted; None for what is missing."""
    frame = readings.frame[["element", "round", "channel", "value"]].astype(object)
    plain = frame.where(frame.notna(), None)
    return sorted(plain.itertuples(index=False, name=None), key=repr)
