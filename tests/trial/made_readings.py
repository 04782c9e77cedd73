"""Small tables of readings, written down row by row."""

from typing import Any

from service.trial.names import with_names_of
from service.trial.readings_table import Readings
from service.trial.rounds import assign_rounds
from service.trial.scores import ScoreTable, score_table
from service.trial.trial import Meter, Trial
from tests.trial.made_frames import readings_frame

BARS = Meter("bars", 0.0, 10.0, 1.0)
UNBOUNDED = Meter("dB", resolution=0.1)


def rows(text: str, *names: str) -> list[dict[str, Any]]:
    """Rows from lines of words, "-" for a value that was not found, numbers where they belong."""
    made = []
    for line in text.strip().splitlines():
        row: dict[str, Any] = dict(zip(names, line.split(), strict=True))
        row["value"] = None if row.get("value", "1") == "-" else float(row.get("value", "1"))
        if "round" in row:
            row["round"] = int(row["round"])
        made.append(row)
    return made


def readings(made: list[dict[str, Any]]) -> Readings:
    """A table of readings."""
    return Readings(readings_frame(made))


def table_of(
    made: list[dict[str, Any]], *, meter: Meter = BARS, with_struck: bool = False, **fields: Any
) -> ScoreTable:
    """The score table of rows."""
    given = readings(made)
    trial = with_names_of(Trial(meter=meter, **fields), given)
    return score_table(trial, assign_rounds(given).frame, with_struck=with_struck)
