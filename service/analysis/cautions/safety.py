"""`safety`: what follows from the result is done on a mast."""

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts


def safety(_facts: Facts) -> Caution:
    """Always raised: every report says what to do next, and next is work at height near live parts."""
    return Caution("safety", "note", {})
