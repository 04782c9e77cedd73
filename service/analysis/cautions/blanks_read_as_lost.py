"""`blanks-read-as-lost`: empty cells of a table were taken to mean that nothing was found."""

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts


def blanks_read_as_lost(facts: Facts) -> Caution | None:
    """Raised where at least one blank cell was read as "nothing found"."""
    count = facts.read_as.get("blanks_read_as_lost") or 0
    if not count:
        return None
    readings = len((facts.put_back or facts).rows)
    return Caution("blanks-read-as-lost", "warning", {"count": count, "of": readings})
