"""The question for a plan, as it comes in: how long a run takes, how much time there is, what matters."""

from collections.abc import Mapping
from dataclasses import dataclass

from service.errors import Fault
from service.settings import Limits
from service.trial.document_fields import Fields
from service.trial.places import brief
from service.trial.trial_document import LARGEST_SEED, MINUTES_OF_A_DAY

FIELDS = (
    "trial",
    "minutes_per_run",
    "minutes_available",
    "minutes_per_mounting",
    "chance",
    "worthwhile_difference",
    "continues",
    "seed",
)
LEAST_CHANCE, MOST_CHANCE = 0.5, 0.99
USUAL_CHANCE = 0.8
LARGEST_DIFFERENCE = 1e6
MOST_MINUTES = 60 * MINUTES_OF_A_DAY


@dataclass(frozen=True)
class PlanQuestion:
    """What is asked beside the trial itself.

    minutes_per_run: from one scan to the next, taking down, putting up and aiming included; None where only
    the trial says it. minutes_per_mounting comes on top, where it was counted apart. worthwhile_difference is
    in meter units. seed: that of the order, None for the trial's.
    """

    minutes_available: float
    minutes_per_run: float | None = None
    minutes_per_mounting: float = 0.0
    chance: float = USUAL_CHANCE
    worthwhile_difference: float | None = None
    seed: int | None = None


def checked_question(document: object, *, limits: Limits) -> tuple[PlanQuestion, list[Fault]]:
    """The question as far as it can be used, and every fault of it; `trial` and `continues` are left aside.

    Whether the time of a run is known is seen once the trial is.
    """
    faults: list[Fault] = []
    if not isinstance(document, Mapping):
        detail = f"Give an object with the fields {', '.join(FIELDS)}."
        return PlanQuestion(0.0), [Fault(detail, pointer="#", given=brief(document))]
    fields = Fields(document, (), faults=faults, longest=limits.text_characters)
    fields.only(FIELDS)
    chance = fields.number("chance", LEAST_CHANCE, MOST_CHANCE)
    available = fields.number("minutes_available", 0, MOST_MINUTES, above=True, required=True)
    question = PlanQuestion(
        minutes_available=available or 0.0,
        minutes_per_run=fields.number("minutes_per_run", 0, MINUTES_OF_A_DAY, above=True),
        minutes_per_mounting=fields.number("minutes_per_mounting", 0, MINUTES_OF_A_DAY) or 0.0,
        chance=USUAL_CHANCE if chance is None else chance,
        worthwhile_difference=fields.number("worthwhile_difference", 0, LARGEST_DIFFERENCE, above=True),
        seed=fields.whole("seed", 0, LARGEST_SEED),
    )
    return question, faults
