"""What was found of one candidate, before it is told."""

from dataclasses import dataclass, replace

from service.statistics.non_inferiority import PairedCheck
from service.statistics.results import NEEDS_MORE_RUNS

SIGN_FLIP = "sign-flip"
WELCH, BANERJEE = "Welch, through the reference", "Banerjee, through the reference"
WELCH_SAMPLES, BANERJEE_SAMPLES = "Welch, over samples", "Banerjee, over samples"


@dataclass(frozen=True)
class Finding:
    """A check with the way it was made.

    `present`: the outcome before any caution stopped it. `baseline_rounds` are the rounds of the baseline,
    those of the candidate stand in `check.rounds`.
    """

    check: PairedCheck
    method: str
    baseline_rounds: int
    more_rounds: int | None = None
    more_rounds_safe: int | None = None
    stopped_by: tuple[str, ...] = ()
    with_struck: str | None = None

    @property
    def outcome(self) -> str:
        """That of the check, or `needs more runs` where a caution stops it."""
        return NEEDS_MORE_RUNS if self.stopped_by else self.check.outcome

    def stopped(self, codes: tuple[str, ...]) -> "Finding":
        """The same, stopped by these cautions, if there are any; then no number of rounds is promised."""
        if not codes:
            return self
        return replace(self, stopped_by=codes, more_rounds=None, more_rounds_safe=None)
