"""`several-things-differ`: material and diameter at once, so that neither can be told to be the cause."""

from service.analysis.cautions.caution import Caution
from service.analysis.geometry import Compared, shapes


def several_things_differ(facts: Compared) -> Caution | None:
    """Raised where two elements differ in material and, by over 5 %, in diameter."""
    pairs = [[pair.first, pair.second] for pair in shapes(facts) if pair.diameter_differs]
    return Caution("several-things-differ", "warning", {"pairs": pairs}) if pairs else None
