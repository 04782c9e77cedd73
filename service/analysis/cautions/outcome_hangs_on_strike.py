"""`outcome-hangs-on-strike`: with the struck runs put back, the trial would say something else."""

from service.analysis.cautions.caution import Caution
from service.analysis.cautions.stops import ruling
from service.analysis.facts import Facts


def outcome_hangs_on_strike(facts: Facts) -> Caution | None:
    """Raised where outcome or winner differ between the trial as struck and with all its runs."""
    if facts.put_back is None:
        return None
    with_strikes, without = ruling(facts), ruling(facts.put_back)
    if with_strikes == without:
        return None
    evidence = {"with": with_strikes.document(), "without": without.document()}
    return Caution("outcome-hangs-on-strike", "warning", evidence)
