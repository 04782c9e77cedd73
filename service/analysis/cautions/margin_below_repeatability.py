"""`margin-below-repeatability`: the margin asks for more than the site and the meter can show."""

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts

SDS = 2.0


def margin_below_repeatability(facts: Facts) -> Caution | None:
    """Raised where the margin is under twice the run-to-run sd: `within noise` is then out of reach."""
    sd, margin = facts.noise.run_sd, facts.trial.margin
    if sd is None or margin >= SDS * sd * (1 - 1e-9):
        return None
    evidence = {"margin": margin, "sd": sd, "smallest_useful_margin": SDS * sd}
    return Caution("margin-below-repeatability", "warning", evidence)
