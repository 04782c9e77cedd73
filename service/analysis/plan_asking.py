"""What a plan is made from: the trial to come, the question, and how many rounds there is time for."""

from dataclasses import dataclass, replace

from service.analysis.plan_facts import PlanFacts, SoFar
from service.errors import BadInput, Fault
from service.statistics.bell_reference import Store
from service.statistics.rounds_needed import MOST_ROUNDS, MOST_SIZE
from service.trial.plan_question import PlanQuestion
from service.trial.trial import Trial

FEWEST_COMPETING = 2
JUST = 1e-9
"""What a quotient of minutes may come out too small by."""


@dataclass(frozen=True)
class Asking:
    """What a plan is made from."""

    trial: Trial
    question: PlanQuestion
    so_far: SoFar
    store: Store
    minutes_per_run: float

    @property
    def seed(self) -> int:
        """The seed of the order and of the simulation."""
        return self.trial.seed if self.question.seed is None else self.question.seed

    def fits(self, elements: int) -> int:
        """How many rounds of so many elements fit into the time there is."""
        return int(self.question.minutes_available / (elements * self.minutes_per_run) + JUST)

    def rounds(self, elements: int) -> int:
        """How many rounds are planned: those missing from the plan, as far as there is time for them.

        Without a plan of its own a trial that has not begun takes all the time there is.
        """
        most = min(MOST_ROUNDS, MOST_SIZE // (elements * (elements - 1) // 2))
        return min(self.fits(elements), most if self.missing is None else min(most, self.missing))

    @property
    def missing(self) -> int | None:
        """How many rounds the trial lacks of its plan; None where it has no plan of its own yet."""
        if self.trial.planned_rounds_stated or self.so_far.rounds_held:
            return max(0, self.trial.planned_rounds - self.so_far.rounds_done)
        return None

    def facts(self, elements: int, competing: int) -> PlanFacts:
        """What is planned for so many elements; the plan fixes its rounds where the trial did not."""
        rounds = self.rounds(elements)
        trial = self.trial if self.missing is not None else replace(self.trial, planned_rounds=max(1, rounds))
        return PlanFacts(trial, self.so_far, rounds, elements, competing)


def minutes_per_run(trial: Trial, question: PlanQuestion) -> float:
    """The minutes of one run. Raises BadInput where nobody says them."""
    minutes = question.minutes_per_run or trial.minutes_per_run
    if minutes is None:
        detail = "This is required: the minutes that a run takes, with taking down, putting up and aiming."
        raise BadInput([Fault(detail, pointer="#/minutes_per_run")])
    return minutes + question.minutes_per_mounting


def check(asking: Asking, elements: int, competing: int) -> None:
    """Raise BadInput where there is nothing to compare, or no time for a single round that is wanted."""
    if competing < FEWEST_COMPETING:
        detail = (
            f"A plan needs at least two elements that compete (twins and pads do not); {competing} found. "
            "Name them in trial.elements."
        )
        raise BadInput([Fault(detail, pointer="#/trial/elements", given=elements)])
    if asking.fits(elements) or asking.missing == 0:
        return
    wanted, available = elements * asking.minutes_per_run, asking.question.minutes_available
    least = int(available / asking.minutes_per_run + JUST)
    fewer = f", or leave out elements: {least} take one round" if least >= FEWEST_COMPETING else ""
    detail = (
        f"One round of {elements} elements takes {wanted:g} minutes at {asking.minutes_per_run:g} minutes a "
        f"run. Give at least {wanted:g} minutes{fewer}."
    )
    raise BadInput([Fault(detail, pointer="#/minutes_available", given=available)])
