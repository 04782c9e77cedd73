"""`coarse-meter`: the steps of the meter are so wide that most paired differences are ties."""

import numpy as np

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts
from service.statistics.intervals import tolerance
from service.statistics.results import Floats

MOST = 0.5


def coarse_meter(facts: Facts) -> Caution | None:
    """Raised where two elements read the same in over half of all rounds and RF channels, over all pairs."""
    cells = facts.table.cells
    held = np.isfinite(cells).sum(axis=0)
    of = int((held * (held - 1) // 2).sum())
    ties = _ties(cells, tolerance(cells))
    if not of or ties <= MOST * of:
        return None
    evidence = {"ties": ties, "of": of, "share": ties / of, "resolution": facts.table.resolution}
    return Caution("coarse-meter", "note", evidence)


def _ties(cells: Floats, tol: float) -> int:
    """The number of pairs along the first axis that are equal; NaN equals nothing.

    In order of size a value ties with as many of those before it as stand in an unbroken row of equals.
    """
    ordered = np.sort(cells, axis=0)
    row = np.zeros(ordered.shape[1:], dtype=np.int64)
    count = 0
    for step in np.diff(ordered, axis=0):
        row = np.where(step <= tol, row + 1, 0)
        count += int(row.sum())
    return count
