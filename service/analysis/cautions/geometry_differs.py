"""`geometry-differs`: elements said to differ in material differ in shape too."""

from service.analysis.cautions.caution import Caution
from service.analysis.geometry import MOST_DIAMETER, MOST_LENGTH, Compared, shapes


def geometry_differs(facts: Compared) -> Caution | None:
    """Raised where diameters differ by over 5 % or lengths by over 0.5 % between two such elements."""
    pairs = [
        {
            "first": pair.first,
            "second": pair.second,
            "diameter": pair.diameter if pair.diameter_differs else None,
            "length": pair.length if pair.length_differs else None,
        }
        for pair in shapes(facts)
        if pair.diameter_differs or pair.length_differs
    ]
    if not pairs:
        return None
    evidence = {"pairs": pairs, "most_diameter": MOST_DIAMETER, "most_length": MOST_LENGTH}
    return Caution("geometry-differs", "warning", evidence)
