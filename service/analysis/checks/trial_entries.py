"""What a document tells of the trials that it rests on, and the id that question and trials give it."""

import hashlib
import json

from service.analysis.checks.question import CheckedTrial


def trial_entry(trial: CheckedTrial) -> dict[str, object]:
    """The entry of one trial."""
    document = trial.document
    return {
        "id": trial.id,
        "title": document["trial"]["title"],
        "provenance": document["provenance"],
        "rounds_done": trial.facts.rounds_done,
        "trial": document["trial"],
        "read_as": document["read_as"],
        "history": document["history"],
    }


def identifier(kind: str, whole: object) -> str:
    """An id of two letters and twelve digits from all that tells one document from another."""
    text = json.dumps(whole, ensure_ascii=False, sort_keys=True)
    digits = hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:12].upper()
    return f"{kind}-{digits[:4]}-{digits[4:8]}-{digits[8:]}"
