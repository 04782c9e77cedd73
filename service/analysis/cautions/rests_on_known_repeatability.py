"""`rests-on-known-repeatability`: the noise comes from repeats or from elsewhere, not from rounds."""

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts
from service.analysis.noise import KNOWN_NOISE

REPEATS = "mountings repeated within a round of this trial"


def rests_on_known_repeatability(facts: Facts) -> Caution | None:
    """Raised where the verdict was reached below three rounds, by a known repeatability."""
    if facts.judgement.design != KNOWN_NOISE:
        return None
    known = facts.trial.known_repeatability
    evidence = {
        "sd": facts.noise.sd,
        "degrees_of_freedom": facts.noise.degrees_of_freedom,
        "from": REPEATS if known is None else known.source,
    }
    return Caution("rests-on-known-repeatability", "warning", evidence)
