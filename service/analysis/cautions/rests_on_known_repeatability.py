"""`rests-on-known-repeatability`: the noise comes from repeats or from elsewhere, not from rounds."""

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts
from service.analysis.noise import THIS_TRIAL

REPEATS = "mountings repeated within a round of this trial"


def rests_on_known_repeatability(facts: Facts) -> Caution | None:
    """Raised where the verdict was reached below three rounds, by a known repeatability.

    Also where that was earlier and the decision stands. `source` tells whether the noise is known from
    elsewhere ("known"), from repeats in this trial ("this trial"), or from both.
    """
    noise = facts.early_noise.noise
    if noise is None:
        return None
    known = facts.trial.known_repeatability
    evidence = {
        "sd": noise.sd,
        "degrees_of_freedom": noise.degrees_of_freedom,
        "from": REPEATS if known is None or noise.source == THIS_TRIAL else known.source,
        "source": noise.source,
        "rounds": facts.early_noise.rounds,
    }
    return Caution("rests-on-known-repeatability", "warning", evidence)
