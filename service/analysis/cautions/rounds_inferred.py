"""`rounds-inferred`: the readings name no rounds; the n-th mounting of each element was taken as round n."""

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts

FROM_COLUMN = "round column"
FROM_ORDER = "order of rows"


def rounds_inferred(facts: Facts) -> Caution | None:
    """Raised where rounds were not given; a warning where only the order of the rows told mountings apart."""
    source = facts.read_as["rounds_from"]
    if source == FROM_COLUMN:
        return None
    return Caution("rounds-inferred", "warning" if source == FROM_ORDER else "note", {"from": source})
