"""An analysis from start to end."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pandas as pd

from service.analysis.document import document
from service.analysis.facts import Facts
from service.analysis.judging import bootstraps, judged
from service.analysis.known_repeatability import check_known_repeatability
from service.analysis.mountings import mountings_by_name
from service.analysis.understanding import understanding
from service.errors import BadInput, Fault
from service.statistics.bell_reference import Store
from service.trial.cells import counted_rows
from service.trial.readings_table import Readings
from service.trial.rounds import AssignedRounds, assign_rounds
from service.trial.scores import ScoreTable, score_table
from service.trial.trial import Trial

Progress = Callable[[str], None]


def analyse(
    trial: Trial, readings: Readings, *, store: Store, progress: Progress | None = None
) -> dict[str, Any]:
    """The analysis document of a trial, without its sentences.

    `trial` names every element and channel of the readings (`with_names_of`). `store` keeps the bell-shaped
    references. `progress` is told the name of each stage as it begins: "scores", "verdict", "other channels",
    "document". The same trial and readings give the same document whatever the order of the rows, where that
    order is not all that tells mountings apart.

    Raises BadInput where there is no reading, every run is struck, a column that tells rounds is half filled,
    or a known repeatability belongs to other RF channels than those used.
    """
    tell = progress or _silent
    if readings.frame.empty:
        raise BadInput([Fault("There is no reading at all; send at least one.", pointer="#/readings")])
    tell("scores")
    assigned = assign_rounds(readings)
    table = score_table(trial, assigned.frame)
    if not table.rounds:
        raise BadInput([Fault("Every run is struck; leave at least one.", pointer="#/trial/struck")])
    check_known_repeatability(trial, table)
    tell("verdict")
    facts = _facts(trial, readings, assigned, table=table, store=store)
    if trial.struck:
        whole = score_table(trial, assigned.frame, with_struck=True)
        put_back = _facts(trial, readings, assigned, table=whole, store=store, with_struck=True)
        facts = replace(facts, put_back=put_back)
    tell("other channels")
    facts = replace(facts, bootstraps=bootstraps(trial, table, facts.judgement))
    tell("document")
    return document(facts, assigned.frame)


def _facts(
    trial: Trial,
    readings: Readings,
    assigned: AssignedRounds,
    *,
    table: ScoreTable,
    store: Store,
    with_struck: bool = False,
) -> Facts:
    rows: pd.DataFrame = counted_rows(trial, assigned.frame, with_struck=with_struck)
    judgement, noise = judged(trial, table, store=store)
    return Facts(
        trial=trial,
        read_as=understanding(readings, assigned, table),
        rows=rows,
        mountings_by_name=mountings_by_name(readings.frame, rows),
        table=table,
        judgement=judgement,
        noise=noise,
        bootstraps=(),
    )


def _silent(_stage: str) -> None:
    """Tell nobody."""
