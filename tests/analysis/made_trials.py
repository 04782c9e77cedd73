"""Small trials made from the scores they should have, without any file or intake.

`made_trial` spreads each score over a few RF channels so that their mean is that score; `trial_of_rows` takes
readings row by row where a test is about the readings themselves.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from service.trial.names import with_names_of
from service.trial.readings_table import Readings
from service.trial.trial import Trial
from service.trial.trial_document import trial_from_document
from tests.trial.made_frames import readings_frame

Row = dict[str, Any]
Scores = Mapping[str, Sequence[float | None]]
DECIBELS = {"unit": "dB", "resolution": 0.001}
BARS = {"unit": "bars", "highest": 10}


@dataclass(frozen=True)
class MadeTrial:
    """A trial and its readings, and the rows they were made from."""

    trial: Trial
    readings: Readings
    rows: list[Row]


def noisy_scores(
    means: Mapping[str, float], *, rounds: int, sd: float, seed: int = 1
) -> dict[str, list[float]]:
    """Scores of elements with given means, with bell-shaped run-to-run noise and a shift of each round."""
    stream = np.random.RandomState(seed)
    shift = stream.normal(size=rounds)
    return {name: (mean + shift + sd * stream.normal(size=rounds)).tolist() for name, mean in means.items()}


def rows_of(scores: Scores, *, signals: int = 4) -> list[Row]:
    """One reading for each run and RF channel; a score of None is a run that was not made.

    RF channels differ by a fixed amount of mean 0, the runs by a ripple over the RF channels of mean 0.
    """
    offsets = 2.0 * (np.arange(signals) - (signals - 1) / 2)
    return [
        {"element": name, "round": r + 1, "channel": f"s{m}", "rf_channel": str(21 + m), "value": value}
        for k, (name, runs) in enumerate(scores.items())
        for r, score in enumerate(runs)
        if score is not None
        for m, value in enumerate((score + offsets + _ripple(k, r, signals)).tolist())
    ]


def made_trial(
    scores: Scores, *, signals: int = 4, read_as: Mapping[str, Any] | None = None, **fields: Any
) -> MadeTrial:
    """A trial with these scores by round, on a fine decibel meter unless `meter` says otherwise.

    `elements` may describe some of the elements; `fields` are fields of the trial document.
    """
    described = {element["id"]: element for element in fields.pop("elements", [])}
    elements = [described.get(name, {"id": name}) for name in scores]
    return trial_of_rows(rows_of(scores, signals=signals), read_as=read_as, elements=elements, **fields)


def trial_of_rows(
    rows: Sequence[Row], *, read_as: Mapping[str, Any] | None = None, **fields: Any
) -> MadeTrial:
    """A trial of these readings; `read_as` changes what is told of their source."""
    document = {"meter": DECIBELS} | fields
    account = _account(rows) | dict(read_as or {})
    readings = Readings(readings_frame(rows), account)
    return MadeTrial(with_names_of(trial_from_document(document), readings), readings, list(rows))


def _account(rows: Sequence[Row]) -> dict[str, Any]:
    """What is told of readings that came as a JSON list."""
    return {
        "media_type": "application/json",
        "shape": "long",
        "encoding": "utf-8",
        "byte_order_mark": False,
        "delimiter": None,
        "decimal_mark": ".",
        "header_row": None,
        "sheet": None,
        "columns": [],
        "rows": len(rows),
        "elements": len({row["element"] for row in rows}),
        "channels": len({row["channel"] for row in rows}),
        "blanks_read_as_lost": 0,
        "not_scanned": 0,
        "marks": {},
        "skipped": [],
        "notes": [],
    }


def _ripple(element: int, number: int, signals: int) -> np.ndarray:
    angle = 2 * np.pi * (np.arange(signals) / signals) + element + 0.7 * number
    return 0.02 * np.sin(angle) if signals > 1 else np.zeros(1)
