"""The notice that tells a webhook of a verdict, and who sees to it that it is told."""

import json
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Protocol

if TYPE_CHECKING:
    from service.storage import Connection
    from service.storage.analysis_rows import KeptAnalysis

FORMAT = "verdict-notice/1"


class Announcer(Protocol):
    """Tells of verdicts."""

    def note(self, connection: "Connection", held: "KeptAnalysis", document: Mapping[str, Any]) -> None:
        """Write down, in the transaction that keeps the analysis, that its verdict is to be told."""

    def look(self) -> None:
        """That transaction was committed: there is something to tell."""


class Unannounced:
    """Tells nobody."""

    def note(self, connection: "Connection", held: "KeptAnalysis", document: Mapping[str, Any]) -> None:
        """Nothing."""

    def look(self) -> None:
        """Nothing."""


def notice(delivery_id: str, held: "KeptAnalysis", document: Mapping[str, Any]) -> str:
    """The notice of an analysis document, as JSON: no reading is in it, and nothing of where or by whom."""
    verdict = document["verdict"]
    told = {
        "format": FORMAT,
        "delivery": delivery_id,
        "trial": held.trial_id,
        "analysis": held.id,
        "outcome": verdict["outcome"],
        "statement": verdict["statement"],
        "report": f"/v1/analyses/{held.id}/report",
    }
    return json.dumps(told, ensure_ascii=True)
