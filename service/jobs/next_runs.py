"""What to put on next in a kept trial, and what the look after it may spend."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.settings import Limits

if TYPE_CHECKING:
    from service.jobs.kept_material import Material
    from service.trial.trial import Trial

FIRST_LOOK_BY = 8
"""Rounds by which there has been a look, whatever the number of elements, unless the plan says later."""

Run = tuple[str, int]
"""An element and its round."""


@dataclass(frozen=True)
class NextLook:
    """The look that comes next: the number of whole rounds it wants, and the error that may have been spent.

    allowed: all that the trial may spend up to its planned rounds and beyond. spent_before, spent_by_then:
    up to the present look and up to this one; both as shares of trials.
    """

    rounds: int
    allowed: float
    spent_before: float
    spent_by_then: float


@dataclass(frozen=True)
class NextRuns:
    """The runs to come.

    runs: those of the round that is under way, or of the next one, in the order to take them; empty where the
    trial names nothing yet. round_number: that round. order: every element of it in its order. also_missing:
    runs that earlier rounds lack, those struck left out. rounds_done: rounds that hold every element.
    """

    round_number: int
    runs: tuple[str, ...]
    order: tuple[str, ...]
    also_missing: tuple[Run, ...]
    rounds_done: int
    planned_rounds: int
    look: NextLook
    labels: dict[str, str]


def next_runs(material: "Material", limits: Limits) -> NextRuns:
    """What to run next; the order is that of a sheet planned for the whole trial beforehand.

    Raises BadInput where the document refers to what is not in the readings.
    """
    from service.analysis.history import in_force
    from service.analysis.plan_facts import NOTHING_YET, so_far
    from service.trial.names import with_names_of
    from service.trial.trial_document import trial_from_document

    trial = in_force(trial_from_document(material.trial_document, limits=limits), material.history)
    done = NOTHING_YET
    if material.batches:
        readings = material.readings
        trial = with_names_of(trial, readings)
        done = so_far(trial, readings)
    struck = {(strike.element, strike.round) for strike in trial.struck}
    missing = [run for run in done.missing if run not in struck]
    begun = done.next_round - 1
    open_now = [element for element, number in missing if number == begun]
    number = begun if open_now else done.next_round
    order = _order(trial, number)
    return NextRuns(
        round_number=number,
        runs=tuple(element for element in order if not open_now or element in open_now),
        order=order,
        also_missing=tuple(run for run in missing if run[1] != number),
        rounds_done=done.rounds_done,
        planned_rounds=trial.planned_rounds,
        look=_next_look(trial, done.rounds_done),
        labels={element.id: element.label for element in trial.elements},
    )


def _order(trial: "Trial", number: int) -> tuple[str, ...]:
    """The elements in the order of that round."""
    from service.trial.run_order import run_order

    names = [element.id for element in trial.elements]
    if not names:
        return ()
    rows = run_order(len(names), max(number, trial.planned_rounds), trial.seed)
    return tuple(names[index] for index in rows[number - 1].tolist())


def _next_look(trial: "Trial", done: int) -> NextLook:
    """The first number of rounds above those done after which there is a look, two elements or more."""
    from service.statistics.looks import Plan

    alpha = 1.0 - trial.confidence
    whole = alpha / 2.0 if trial.known_repeatability is not None else alpha
    plan = Plan(trial.planned_rounds, whole, trial.looks == "every round")
    elements = max(2, len(trial.elements))
    to_come = range(done + 1, done + trial.planned_rounds + FIRST_LOOK_BY)
    coming = next(number for number in to_come if plan.is_look(elements, number))
    before = plan.spent(done, elements=elements) if done and plan.is_look(elements, done) else 0.0
    return NextLook(coming, whole, before, plan.spent(coming, elements=elements))
