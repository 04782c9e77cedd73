"""The five situations in which a report must say all that it must say."""

from typing import Any

from tests.reports import sample_documents as samples
from tests.reports.sample_parts import caution

Document = dict[str, Any]


def amended() -> Document:
    """A kept trial whose margin was changed and one of whose batches was taken back."""
    margins = {"first_margin": 0.5, "margin": 0.4, "outcome": "clear winner", "winner": "brass-3"}
    changed = caution("plan-changed", "warning", changes=[], under_first_margin=margins)
    document = samples.six_elements()
    document["trial"]["margin"] = 0.4
    change = {"number": 1, "at": "2026-05-13T09:00:00Z", "reason": "the meter was finer than thought"}
    change |= {"before": {"margin": 0.5}, "after": {"margin": 0.4}}
    given = {"number": 1, "at": "2026-05-12T10:00:00Z", "kind": "readings", "rows": 72}
    given |= {"reason": None, "withdraws": None, "withdrawn_by": 2}
    taken = given | {"number": 2, "kind": "withdrawal", "rows": 0, "reason": "wrong meter"}
    taken |= {"withdraws": 1, "withdrawn_by": None}
    document["history"] = {"changes": [change], "batches": [given, taken]}
    changed["message"] = "The margin was changed after the first readings."
    document["cautions"].insert(0, changed)
    document["provenance"]["issued_at"] = "2026-06-02T08:00:00Z"
    return document


SITUATIONS = {
    "clear winner": samples.six_elements,
    "within noise": lambda: samples.six_elements(effects=(0.2, 0.2, 0.1, 0.0), margin=1.2),
    "needs more runs": lambda: samples.six_elements(effects=(0.3, 0.2, 0.1, -0.1), rounds=4),
    "one scan": samples.one_round,
    "amended": amended,
}
