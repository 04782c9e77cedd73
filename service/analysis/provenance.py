"""Which readings these are: their hash, the id of the report, dates, the flow of runs."""

import hashlib
import json
from collections.abc import Mapping
from typing import Any

import pandas as pd

from service.analysis.understanding import runs_of
from service.trial.trial import Trial

_TEXTS = ("element", "channel", "rf_channel", "run")


def provenance(trial: Trial, frame: pd.DataFrame, history: Mapping[str, object] | None) -> dict[str, object]:
    """The part of the document that tells one set of readings from another.

    `frame` holds all readings with their rounds, struck ones too. `report_id` is made from the SHA-256 of the
    trial document, the hash of the readings and a kept trial's `history`, so that another margin or another
    account of the plan makes another report.
    """
    sha = readings_sha256(frame)
    whole = json.dumps(trial.document(), ensure_ascii=False, sort_keys=True) + sha
    if history is not None:
        whole += json.dumps(history, ensure_ascii=False, sort_keys=True)
    digits = hashlib.sha256(whole.encode()).hexdigest()[:12].upper()
    return {
        "report_id": f"AA-{digits[:4]}-{digits[4:8]}-{digits[8:]}",
        "readings_sha256": sha,
        "first_at": _instant(frame["at"].min()),
        "last_at": _instant(frame["at"].max()),
        "runs": _runs(trial, frame),
    }


def readings_sha256(frame: pd.DataFrame) -> str:
    """SHA-256 of the readings in canonical form, which no order of rows, file format or spelling changes.

    One line a reading, in code point order, each ended by a line feed, in UTF-8: element, channel, RF
    channel, run, round, mounting (the element's n-th), value, time in nanoseconds since 1970; separated by
    tabs, empty where not given, values as the shortest decimal that reads back to the same double.
    """
    texts = [frame[name].astype(object).where(frame[name].notna(), "").tolist() for name in _TEXTS]
    numbers = [map(str, frame[name].tolist()) for name in ("round", "mounting")]
    values = _where_known(frame["value"], frame["value"].tolist())
    times = _where_known(frame["at"], frame["at"].dt.as_unit("ns").astype("int64").tolist())
    lines = sorted(map("\t".join, zip(*texts, *numbers, values, times, strict=True)))
    return hashlib.sha256("".join(f"{line}\n" for line in lines).encode("utf-8", "surrogatepass")).hexdigest()


def _where_known(column: "pd.Series[Any]", values: list[Any]) -> list[str]:
    """The values written out, "" where the column has none."""
    return [repr(value) if known else "" for value, known in zip(values, column.notna(), strict=True)]


def _instant(at: pd.Timestamp) -> str | None:
    """RFC 3339 in UTC, None where no reading has a time."""
    return None if pd.isna(at) else at.isoformat().replace("+00:00", "Z")


def _runs(trial: Trial, frame: pd.DataFrame) -> dict[str, int]:
    done = runs_of(frame)
    struck = {(strike.element, strike.round) for strike in trial.struck}
    return {
        "planned": trial.planned_rounds * len(trial.elements),
        "done": len(done),
        "left_out": len(done & struck),
    }
