"""What a history asks: which element, through which reference, in which trials; and that it can be asked."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import pandas as pd

from service.analysis.checks.question import CheckedTrial, meter_differences
from service.analysis.checks.signals import Signals, shared_signals, to_reference
from service.analysis.histories.dates import date_of
from service.errors import BadInput, Fault
from service.statistics.results import Floats
from service.statistics.trend_over_trials import FEWEST_ROUNDS
from service.trial.history_question import HistoryQuestion

TRIALS = "#/trials"
FROM_TRIALS, FROM_QUESTION = "trials", "question"


@dataclass(frozen=True, eq=False)
class Point:
    """One trial of the history: its date, and element less reference by round, (n,).

    `put_back` is the same with struck runs put back, which is `rounds` where nothing is struck.
    """

    trial: CheckedTrial
    date: pd.Timestamp
    rounds: Floats
    put_back: Floats


@dataclass(frozen=True, eq=False)
class SettledHistory:
    """A question that can be asked: margin and confidence filled in, trials as points in order of date."""

    question: HistoryQuestion
    points: tuple[Point, ...]
    signals: Signals
    margin: float
    margin_from: str
    confidence: float
    confidence_from: str

    @property
    def days(self) -> Floats:
        """Of each point the days since the first, (k,)."""
        first = self.points[0].date
        return np.array([(point.date - first).total_seconds() / 86_400 for point in self.points])

    @property
    def trials(self) -> tuple[CheckedTrial, ...]:
        """The trials in order of date."""
        return tuple(point.trial for point in self.points)


def settled(question: HistoryQuestion, trials: Sequence[CheckedTrial]) -> SettledHistory:
    """The question with everything that it left open filled in.

    `trials` stand as the question names them. Raises BadInput with every reason why it cannot be asked: an
    element that is not there, units or scales that differ, margins that differ where none is given, no shared
    RF channel, too few rounds, no dates, or all on one date.
    """
    margins = {trial.facts.trial.margin for trial in trials}
    _refuse([*_names(question, trials), *_meters(trials), *_margins(question, margins)])
    signals = shared_signals(tuple(trials))
    _refuse(_no_signal(signals))
    drawn = [_drawn(question, trial, signals) for trial in trials]
    _refuse([*_few_rounds(question, drawn), *_no_dates(question, drawn)])
    dated = (Point(trial, date, *rounds) for trial, date, *rounds in drawn if date is not None)
    points = sorted(dated, key=_by_date)
    _refuse(_one_date(points))
    order = tuple(point.trial for point in points)
    return SettledHistory(
        question=question,
        points=tuple(points),
        signals=shared_signals(order),
        margin=min(margins) if question.margin is None else question.margin,
        margin_from=FROM_TRIALS if question.margin is None else FROM_QUESTION,
        confidence=question.confidence or max(trial.facts.trial.confidence for trial in trials),
        confidence_from=FROM_TRIALS if question.confidence is None else FROM_QUESTION,
    )


_Drawn = tuple[CheckedTrial, pd.Timestamp | None, Floats, Floats]


def _drawn(question: HistoryQuestion, trial: CheckedTrial, signals: Signals) -> _Drawn:
    rounds, put_back = (
        to_reference(
            trial, question.element, reference=question.reference, signals=signals, with_struck=with_struck
        )
        for with_struck in (False, True)
    )
    return trial, date_of(trial.facts, question.element, question.reference), rounds, put_back


def _by_date(point: Point) -> tuple[pd.Timestamp, str]:
    return point.date, point.trial.id or ""


def _refuse(faults: Sequence[Fault]) -> None:
    if faults:
        raise BadInput(faults)


def _names(question: HistoryQuestion, trials: Sequence[CheckedTrial]) -> Iterator[Fault]:
    if question.element == question.reference:
        detail = "The reference must be another element than the one that is followed."
        yield Fault(detail, pointer="#/reference", given=question.reference[:80])
    for field in ("element", "reference"):
        yield from _absent(getattr(question, field), field, trials)


def _absent(name: str, field: str, trials: Sequence[CheckedTrial]) -> Iterator[Fault]:
    """Of an element that no trial holds one fault, of another one for each trial that does not hold it."""
    without = [place for place, trial in enumerate(trials) if name not in trial.facts.ids]
    if len(without) == len(trials):
        shared = [one for one in trials[0].facts.ids if all(one in trial.facts.ids for trial in trials)]
        told = (
            f"all of them hold {', '.join(shared[:20])}" if shared else "there is none that all of them hold"
        )
        yield Fault(f"None of these trials holds it; {told}.", pointer=f"#/{field}", given=name[:80])
        return
    for place in without:
        there = ", ".join(trials[place].facts.ids[:20])
        detail = f"This trial holds no element {name[:80]!r}; there are {there}. Leave the trial out."
        yield Fault(detail, pointer=f"{TRIALS}/{place}", given=trials[place].id)


def _meters(trials: Sequence[CheckedTrial]) -> Iterator[Fault]:
    for place, trial in enumerate(trials[1:], start=1):
        for name, here, there in meter_differences(trial, trials[0]):
            detail = (
                f"The meter's {name} is {here} here and {there} in the first trial named; only trials of one "
                "unit and scale can be compared. Leave the trial out."
            )
            yield Fault(detail, pointer=f"{TRIALS}/{place}", given=trial.id)


def _margins(question: HistoryQuestion, margins: set[float]) -> Iterator[Fault]:
    if question.margin is None and len(margins) > 1:
        told = ", ".join(f"{margin:g}" for margin in sorted(margins))
        yield Fault(f"The trials have different margins ({told}); give one.", pointer="#/margin")


def _no_signal(signals: Signals) -> list[Fault]:
    detail = (
        "No RF channel has a level in every one of these trials, so they cannot be compared. Ask of trials "
        "that share some."
    )
    return [] if signals.used else [Fault(detail, pointer=TRIALS)]


def _few_rounds(question: HistoryQuestion, drawn: Sequence[_Drawn]) -> Iterator[Fault]:
    for place, (trial, _, rounds, _) in enumerate(drawn):
        if len(rounds) < FEWEST_ROUNDS:
            detail = (
                f"Rounds that hold both {question.element[:80]} and {question.reference[:80]}: "
                f"{len(rounds)}; {FEWEST_ROUNDS} are the fewest. Add rounds, or leave the trial out."
            )
            yield Fault(detail, pointer=f"{TRIALS}/{place}", given=trial.id)


def _no_dates(question: HistoryQuestion, drawn: Sequence[_Drawn]) -> Iterator[Fault]:
    for place, (trial, date, rounds, _) in enumerate(drawn):
        if date is None and len(rounds) >= FEWEST_ROUNDS:
            detail = (
                f"No run of {question.element[:80]} or {question.reference[:80]} in this trial has a time, "
                "so it has no date. Send its readings again with `at` (RFC 3339 with a zone) as a "
                "correction, or leave the trial out."
            )
            yield Fault(detail, pointer=f"{TRIALS}/{place}", given=trial.id)


def _one_date(points: Sequence[Point]) -> list[Fault]:
    if points[0].date != points[-1].date:
        return []
    return [Fault("All these trials have the same date; a trend needs several.", pointer=TRIALS)]
