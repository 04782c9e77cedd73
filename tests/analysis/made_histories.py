"""Trials of several days that hold the same two elements, made so that one creeps by so much a trial."""

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta

import numpy as np

from service.analysis.analyse import analysed
from service.analysis.design_history import CheckedTrial
from service.statistics.bell_reference import Store
from service.trial.history_question import HistoryQuestion
from tests.analysis.made_trials import MadeTrial, rows_of, trial_of_rows

DAYS = ("2024-04-06", "2024-09-14", "2025-03-02", "2025-08-23", "2026-04-11")
NOON = "T12:00:00+00:00"


def dated_trial(
    means: Mapping[str, float], day: str, *, rounds: int = 6, sd: float = 0.2, seed: int = 1, **fields: object
) -> MadeTrial:
    """Runs in a drawn order, a quarter of an hour apart, from noon on; `fields` are of the trial document."""
    stream = np.random.RandomState(seed)
    shift = stream.normal(size=rounds)
    scores = {name: (mean + shift + sd * stream.normal(size=rounds)).tolist() for name, mean in means.items()}
    order = [stream.permutation(len(means)).tolist() for _ in range(rounds)]
    begin, places = datetime.fromisoformat(day + NOON), list(means)
    rows = [row | {"at": _at(begin, order, row, places)} for row in rows_of(scores)]
    elements = [{"id": name} for name in means]
    return trial_of_rows(rows, **{"margin": 1.0, "elements": elements, "title": f"Roof {day}"} | fields)


def creeping(
    step: float, *, days: Sequence[str] = DAYS, sd: float = 0.2, others: Mapping[str, float] | None = None
) -> list[MadeTrial]:
    """A trial a day; the whip loses `step` from each to the next against the brass reference."""
    return [
        dated_trial({"whip": 20.0 - step * place, "brass": 20.0} | (others or {}), day, sd=sd, seed=place + 1)
        for place, day in enumerate(days)
    ]


def checked(trials: Sequence[MadeTrial], store: Store) -> list[CheckedTrial]:
    """The trials analysed, each with an id of its own."""
    return [
        CheckedTrial(analysed(made.trial, made.readings, store=store), f"{place:032x}")
        for place, made in enumerate(trials)
    ]


def question_of(trials: Sequence[CheckedTrial], **given: object) -> HistoryQuestion:
    """Does the whip creep against the brass reference in these trials?"""
    names = {"element": "whip", "reference": "brass", "trials": tuple(trial.id or "" for trial in trials)}
    return HistoryQuestion(**names | given)  # type: ignore[arg-type] # fields of several types


def _at(begin: datetime, order: list[list[int]], row: Mapping[str, object], places: list[str]) -> str:
    number = int(str(row["round"])) - 1
    run = number * len(places) + order[number].index(places.index(str(row["element"])))
    return (begin + timedelta(minutes=15 * run)).isoformat()
