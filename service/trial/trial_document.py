"""From the trial document to a `Trial`: everything checked, every fault told, defaults filled in."""

from collections.abc import Mapping

from service.errors import BadInput, Fault
from service.settings import Limits
from service.trial import trial_entries
from service.trial.document_fields import Fields
from service.trial.places import brief
from service.trial.trial import COMPARES, LOOKS, REGIONS, Meter, Trial
from service.trial.trial_meter import checked_meter, margin_bounds

TRIAL_FIELDS = tuple(Trial(meter=Meter("bars")).document())
LARGEST_SEED = 2**53 - 1
"""Above it a number loses digits in readers that keep all numbers as doubles."""
LEAST_CONFIDENCE, MOST_CONFIDENCE = 0.80, 0.99
MINUTES_OF_A_DAY = 1440
DEFAULT_LIMITS = Limits()


def trial_from_document(document: Mapping[str, object], *, limits: Limits = DEFAULT_LIMITS) -> Trial:
    """The trial that the document describes.

    Raises BadInput with every fault, each with its JSON pointer (#/trial/meter/unit). Whether the names that
    it refers to exist is checked by `names.with_names_of`.
    """
    trial, faults = checked_trial(document, limits=limits)
    if trial is None or faults:
        raise BadInput(faults)
    return trial


def checked_trial(document: object, *, limits: Limits = DEFAULT_LIMITS) -> tuple[Trial | None, list[Fault]]:
    """The trial as far as it can be used, and every fault; None where the document is no object.

    Of a trial with faults the meter has no unit where it cannot be used, and the entries of lists keep their
    places, with an empty id where theirs is faulty.
    """
    faults: list[Fault] = []
    if not isinstance(document, Mapping):
        detail = 'Give the trial as an object, at least {"meter": {"unit": "bars"}}.'
        return None, [Fault(detail, pointer="#/trial", given=brief(document))]
    fields = Fields(document, ("trial",), faults=faults, longest=limits.text_characters)
    fields.only(TRIAL_FIELDS)
    return _checked_fields(fields, limits), faults


def _checked_fields(fields: Fields, limits: Limits) -> Trial:
    """Every field; without a meter the margin is taken as if on any scale."""
    meter = checked_meter(fields)
    least_rounds, most_rounds = 1, limits.rounds
    largest_margin, usual_margin = margin_bounds(meter)
    margin = fields.number("margin", 0, largest_margin, above=True)
    planned = fields.whole("planned_rounds", least_rounds, most_rounds)
    seed = fields.whole("seed", 0, LARGEST_SEED)
    return Trial(
        meter=meter or Meter(""),
        title=fields.text("title"),
        margin=usual_margin if margin is None else margin,
        confidence=fields.share("confidence", LEAST_CONFIDENCE, MOST_CONFIDENCE) or Trial.confidence,
        planned_rounds=Trial.planned_rounds if planned is None else planned,
        planned_rounds_stated=planned is not None,
        looks=fields.choice("looks", LOOKS) or Trial.looks,
        reference=fields.name("reference"),
        region=fields.choice("region", REGIONS),
        seed=Trial.seed if seed is None else seed,
        compares=fields.choice("compares", COMPARES) or Trial.compares,
        elements=trial_entries.elements(fields, most=limits.elements),
        channels=trial_entries.channels(fields, most=limits.channels),
        struck=trial_entries.struck(fields, most=limits.elements * limits.rounds),
        known_repeatability=trial_entries.known_repeatability(fields, largest_margin),
        minutes_per_run=fields.number("minutes_per_run", 0, MINUTES_OF_A_DAY, above=True),
        taken_by=fields.text("taken_by"),
        site=fields.text("site"),
    )
