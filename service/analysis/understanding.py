"""How the readings were understood: what intake said, and what rounds and RF channels were made of it."""

from collections.abc import Iterable
from typing import Any

import pandas as pd

from service.trial.completeness import runs_to_repeat
from service.trial.level_channels import LeftOut
from service.trial.readings_table import Readings
from service.trial.rounds import AssignedRounds
from service.trial.scores import ScoreTable


def understanding(readings: Readings, assigned: AssignedRounds, table: ScoreTable) -> dict[str, Any]:
    """The account of intake with the runs, rounds, RF channels and step of the meter added.

    `left_out` lists the RF channels outside the level analysis with the runs that cost them their place (at
    most 100, `run_count` is how many there are); `runs_to_repeat` is filled where fewer than half are left.
    """
    runs = runs_of(assigned.frame)
    return dict(readings.read_as) | {
        "runs": len(runs),
        "rounds": len({number for _, number in runs}),
        "rf_channels": len(table.rf_channels),
        "rounds_from": assigned.rounds_from,
        "resolution": table.resolution,
        "resolution_from": table.resolution_from,
        "left_out": [{"rf_channel": left.name, **_why(left)} for left in table.left_out],
        "channels_left_out": [{"channel": left.name, **_why(left)} for left in table.channels_left_out],
        "runs_to_repeat": _runs(runs_to_repeat(table)),
    }


def runs_of(frame: pd.DataFrame) -> set[tuple[str, int]]:
    """The runs (element, round) of a frame of readings."""
    return set(zip(frame["element"].tolist(), frame["round"].tolist(), strict=True))


def _why(left: LeftOut) -> dict[str, object]:
    return {"why": left.why, "runs": _runs(left.runs), "run_count": left.run_count}


def _runs(runs: Iterable[tuple[str, int]]) -> list[dict[str, object]]:
    return [{"element": element, "round": number} for element, number in runs]
