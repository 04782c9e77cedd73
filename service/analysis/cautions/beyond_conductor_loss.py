"""`beyond-conductor-loss`: a clear difference far larger than the metals can make."""

from service.analysis.cautions.caution import Caution
from service.analysis.conductor_loss import leader_differences
from service.analysis.facts import Facts

TIMES = 10.0


def beyond_conductor_loss(facts: Facts) -> Caution | None:
    """Raised where the leader is a clear winner by over ten times what its metal and the other's can explain.

    In decibels only, and only between different metals: of one metal nothing was to be explained.
    """
    pairs = [
        {"first": pair.first, "second": pair.second, "difference": difference, "metal_bound_db": bound}
        for pair, difference in leader_differences(facts)
        if (bound := pair.bound_db) > 0 and abs(difference) > TIMES * bound
    ]
    return Caution("beyond-conductor-loss", "warning", {"pairs": pairs, "times": TIMES}) if pairs else None
