"""An analysis from start to end."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import pandas as pd

from service.analysis.document import document
from service.analysis.facts import Facts
from service.analysis.history import in_force
from service.analysis.judging import bootstraps, judged
from service.analysis.known_repeatability import check_known_repeatability
from service.analysis.mountings import mountings_by_name
from service.analysis.understanding import understanding
from service.errors import BadInput, Fault
from service.statistics.bell_reference import Store
from service.trial.cells import counted_rows
from service.trial.history import History
from service.trial.readings_table import Readings
from service.trial.rounds import AssignedRounds, assign_rounds
from service.trial.scores import ScoreTable, score_table
from service.trial.trial import Trial

Progress = Callable[[str], None]


@dataclass(frozen=True)
class _Material:
    """What every judgement of one analysis is made from."""

    readings: Readings
    assigned: AssignedRounds
    store: Store


@dataclass(frozen=True)
class Analysed:
    """An analysis document, and the facts it was written from."""

    facts: Facts
    document: dict[str, Any]


def analyse(
    trial: Trial,
    readings: Readings,
    *,
    store: Store,
    progress: Progress | None = None,
    history: History | None = None,
) -> dict[str, Any]:
    """The analysis document of a trial, without its sentences; see `analysed`."""
    return analysed(trial, readings, store=store, progress=progress, history=history).document


def analysed(
    trial: Trial,
    readings: Readings,
    *,
    store: Store,
    progress: Progress | None = None,
    history: History | None = None,
) -> Analysed:
    """The analysis document of a trial, without its sentences, with what it was written from.

    `trial` names every element and channel of the readings (`with_names_of`). `store` keeps the bell-shaped
    references. `progress` is told the name of each stage as it begins: "scores", "verdict", "other channels",
    "document". `history` is that of a kept trial: the schedule of its first plan decides the looks, and the
    outcome under its first margin stands beside that under a changed one. The same trial and readings give
    the same document whatever the order of the rows, where that
    order is not all that tells mountings apart.

    Raises BadInput where there is no reading, every run is struck, a column that tells rounds is half filled,
    or a known repeatability belongs to other RF channels than those used.
    """
    tell = progress or _silent
    if readings.frame.empty:
        raise BadInput([Fault("There is no reading at all; send at least one.", pointer="#/readings")])
    tell("scores")
    material = _Material(readings, assign_rounds(readings), store)
    ruled = in_force(trial, history)
    table = score_table(ruled, material.assigned.frame)
    if not table.rounds:
        raise BadInput([Fault("Every run is struck; leave at least one.", pointer="#/trial/struck")])
    check_known_repeatability(ruled, table)
    tell("verdict")
    facts = _with_others(_facts(ruled, material, table), material, history)
    tell("other channels")
    facts = replace(facts, bootstraps=bootstraps(ruled, table, facts.judgement))
    tell("document")
    return Analysed(facts, document(facts, material.assigned.frame, stated=trial))


def _with_others(facts: Facts, material: _Material, history: History | None) -> Facts:
    """The facts with what the same trial says with its struck runs put back, and under its first margin."""
    trial, put_back, first_margin = facts.trial, None, None
    if trial.struck:
        whole = score_table(trial, material.assigned.frame, with_struck=True)
        put_back = _facts(trial, material, whole, with_struck=True)
    if history is not None and history.first_plan.margin != trial.margin:
        first_margin = _facts(replace(trial, margin=history.first_plan.margin), material, facts.table)
    return replace(facts, put_back=put_back, history=history, first_margin=first_margin)


def _facts(trial: Trial, material: _Material, table: ScoreTable, *, with_struck: bool = False) -> Facts:
    assigned = material.assigned
    rows: pd.DataFrame = counted_rows(trial, assigned.frame, with_struck=with_struck)
    judgement, noise, early_noise = judged(trial, table, store=material.store)
    return Facts(
        trial=trial,
        read_as=understanding(material.readings, assigned, table),
        rows=rows,
        mountings_by_name=mountings_by_name(material.readings.frame, rows),
        table=table,
        judgement=judgement,
        noise=noise,
        early_noise=early_noise,
        bootstraps=(),
    )


def _silent(_stage: str) -> None:
    """Tell nobody."""
