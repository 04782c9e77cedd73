"""The part of the document on runs that were taken out, and what the trial would say with them."""

from service.analysis.cautions.stops import ruling
from service.analysis.facts import Facts


def struck(facts: Facts) -> dict[str, object]:
    """The struck runs with their reasons; the outcome and winner with all of them put back."""
    return {
        "runs": [
            {"element": strike.element, "round": strike.round, "reason": strike.reason}
            for strike in facts.trial.struck
        ],
        "without_strikes": ruling(facts.put_back or facts).document(),
    }
