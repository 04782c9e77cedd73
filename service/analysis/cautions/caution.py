"""What a caution is, and how one that stops the trial says which pairs it touches."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from service.analysis.facts import Facts
from service.statistics.results import CLEAR_WINNER

Severity = Literal["note", "warning", "stop"]
PairOfIds = tuple[str, str]

# A caution that tests readings is raised at this p or below. Sound trials are not always normal: this leaves
# room for heavier tails before one of them is raised in more than one sound trial in twenty.
LEVEL = 0.02


@dataclass(frozen=True)
class Caution:
    """A code, how much it weighs, and the numbers a reader can check it by."""

    code: str
    severity: Severity
    evidence: Mapping[str, object]

    def document(self) -> dict[str, object]:
        """The caution as it stands in the analysis document, its sentence still to be filled in."""
        return {
            "code": self.code,
            "severity": self.severity,
            "message": None,
            "evidence": dict(self.evidence),
        }


def stop(facts: Facts, code: str, *, evidence: Mapping[str, object], touched: set[PairOfIds]) -> Caution:
    """A caution that stops the trial; it adds the pairs it touches and the clear results that still stand."""
    pairs = [(facts.ids[pair.first], facts.ids[pair.second], pair.outcome) for pair in facts.judgement.pairs]
    return Caution(
        code,
        "stop",
        dict(evidence)
        | {
            "pairs_touched": [[a, b] for a, b, _ in pairs if (a, b) in touched],
            "pairs_standing": [
                [a, b] for a, b, outcome in pairs if (a, b) not in touched and outcome == CLEAR_WINNER
            ],
        },
    )
