"""`depends-on-channels`: clear over other rounds, but not over other rounds and other channels."""

from service.analysis.cautions.caution import Caution
from service.analysis.facts import Facts
from service.statistics.intervals import tolerance
from service.statistics.results import CLEAR_WINNER


def depends_on_channels(facts: Facts) -> Caution | None:
    """Raised where the crossed bootstrap of a pair includes 0 under a clear winner."""
    tol = tolerance(facts.table.scores)
    pairs = [
        {
            "first": facts.ids[pair.first],
            "second": facts.ids[pair.second],
            "low": drawn.low,
            "high": drawn.high,
        }
        for pair, drawn in zip(facts.judgement.pairs, facts.bootstraps, strict=True)
        if drawn is not None and pair.outcome == CLEAR_WINNER and drawn.low <= tol and drawn.high >= -tol
    ]
    return Caution("depends-on-channels", "warning", {"pairs": pairs}) if pairs else None
