"""What the trial says once the cautions that stop it have been heard."""

from dataclasses import dataclass

from service.analysis.cautions.caution import Caution
from service.analysis.cautions.one_mounting import one_mounting
from service.analysis.cautions.pad_not_seen import pad_not_seen
from service.analysis.cautions.twin_differs import twin_differs
from service.analysis.cautions.unequal_noise import unequal_noise
from service.analysis.facts import Facts
from service.statistics.results import NEEDS_MORE_RUNS


@dataclass(frozen=True)
class Ruling:
    """An outcome and, under a clear winner, whose."""

    outcome: str
    winner: str | None

    def document(self) -> dict[str, object]:
        """The ruling as it stands in the analysis document."""
        return {"outcome": self.outcome, "winner": self.winner}


def stops(facts: Facts) -> tuple[Caution, ...]:
    """The cautions that stop this trial, in their order."""
    found = (one_mounting(facts), unequal_noise(facts), twin_differs(facts), pad_not_seen(facts))
    return tuple(caution for caution in found if caution is not None and caution.severity == "stop")


def ruling(facts: Facts) -> Ruling:
    """The judgement's outcome and winner, or `needs more runs` where a caution stops the trial."""
    winner = facts.judgement.winner
    if stops(facts):
        return Ruling(NEEDS_MORE_RUNS, None)
    return Ruling(facts.judgement.outcome, None if winner is None else facts.ids[winner])
