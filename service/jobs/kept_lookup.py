"""Kept trials as they are found, locked and shown."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any

from service.errors import NotKnown, Stale
from service.jobs.kept_batches import Held, held_by, standing
from service.jobs.kept_material import history_of
from service.storage import Connection, batch_rows, trial_rows
from service.storage.trial_rows import KeptTrial

Document = dict[str, Any]


@dataclass(frozen=True)
class Seen:
    """A trial as it is shown: its version, and the document with what became of it."""

    version: int
    document: Document


def found(
    connection: Connection, owner: str, trial_id: str, *, version: int | None = None, lock: bool = False
) -> KeptTrial:
    """The owner's trial; with `lock` nobody else changes it until the transaction ends.

    Raises NotKnown for one that is not there or another's, Stale where `version` is not the present one.
    """
    trial = trial_rows.find_trial(connection, owner, trial_id, lock=lock)
    if trial is None:
        raise NotKnown(f"There is no trial {trial_id[:40]!r}. GET /v1/trials lists those that are kept.")
    if version is not None and version != trial.version:
        raise Stale(
            f"The trial has changed since: it is at version {trial.version}. Read it again, then change it.",
            headers={"ETag": f'"{trial.version}"'},
        )
    return trial


def held(connection: Connection, trial_id: str) -> Held:
    """What the batches that stand hold together."""
    return held_by(standing(batch_rows.accounts_of(connection, trial_id)))


def seen(connection: Connection, trial: KeptTrial) -> Seen:
    """The trial document as it was given, its id before it and behind it what became of it."""
    accounts = batch_rows.accounts_of(connection, trial.id)
    there = held_by(standing(accounts))
    history = history_of(trial.first_plan, trial_rows.changes_of(connection, trial.id), accounts)
    kept = {
        "version": trial.version,
        "created_at": trial.created_at,
        "changed_at": trial.changed_at,
        "held": {"elements": there.elements, "channels": len(there.channels), "runs": len(there.runs)},
        "history": None if history is None else asdict(history),
    }
    return Seen(trial.version, {"id": trial.id, **trial.document, "kept": kept})


def in_brief(trial: KeptTrial, batches: int) -> Document:
    """The trial as a line of a list."""
    return {
        "id": trial.id,
        "title": trial.document.get("title"),
        "version": trial.version,
        "batches": batches,
        "created_at": trial.created_at,
        "changed_at": trial.changed_at,
    }


def reads_alike(document: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    """Whether a batch is understood the same under both documents."""
    from service.jobs.kept_documents import document_for_readings

    return document_for_readings(document) == document_for_readings(other)
