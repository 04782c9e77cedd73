"""The question for a design's history, as it comes in: which element, which reference, which trials."""

from collections.abc import Mapping
from dataclasses import dataclass

from service.errors import BadInput, Fault
from service.settings import Limits
from service.trial.document_fields import Fields
from service.trial.places import brief
from service.trial.trial_document import LEAST_CONFIDENCE, MOST_CONFIDENCE

FIELDS = ("element", "reference", "trials", "margin", "confidence")
FEWEST_TRIALS, MOST_TRIALS = 3, 60
LARGEST_MARGIN = 1e6


@dataclass(frozen=True)
class HistoryQuestion:
    """Does the element creep against the reference in these kept trials, named by their ids?

    `margin` and `confidence` are None for those of the trials.
    """

    element: str
    reference: str
    trials: tuple[str, ...]
    margin: float | None = None
    confidence: float | None = None


def checked_history_question(document: object, *, limits: Limits) -> HistoryQuestion:
    """The question. Raises BadInput with every fault, each with its JSON pointer."""
    faults: list[Fault] = []
    if not isinstance(document, Mapping):
        detail = f"Give an object with the fields {', '.join(FIELDS)}."
        raise BadInput([Fault(detail, pointer="#", given=brief(document))])
    fields = Fields(document, (), faults=faults, longest=limits.text_characters)
    fields.only(FIELDS)
    question = HistoryQuestion(
        element=fields.name("element", required=True) or "",
        reference=fields.name("reference", required=True) or "",
        trials=_trials(fields),
        margin=fields.number("margin", 0, LARGEST_MARGIN, above=True),
        confidence=fields.share("confidence", LEAST_CONFIDENCE, MOST_CONFIDENCE),
    )
    if faults:
        raise BadInput(faults)
    return question


def _trials(fields: Fields) -> tuple[str, ...]:
    trials = fields.names("trials")
    if trials is not None and not FEWEST_TRIALS <= len(trials) <= MOST_TRIALS:
        fields.fault("trials", f"Name {FEWEST_TRIALS} to {MOST_TRIALS} kept trials; {len(trials)} given.")
    return trials or ()
