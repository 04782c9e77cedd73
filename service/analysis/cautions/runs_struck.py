"""`runs-struck`: runs were taken out of the analysis, openly and with a reason."""

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts


def runs_struck(facts: Facts) -> Caution | None:
    """Raised where the trial strikes a run; lists each with its reason."""
    runs = [
        {"element": strike.element, "round": strike.round, "reason": strike.reason}
        for strike in facts.trial.struck
    ]
    return Caution("runs-struck", "note", {"runs": runs}) if runs else None
