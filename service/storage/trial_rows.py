"""Rows of trials and of their changes. Every function finds only what belongs to the owner."""

import json
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Row, delete, func, insert, select, update

from service.storage.clock import now_text
from service.storage.paging import newest_first
from service.storage.tables import BATCHES, TRIAL_CHANGES, TRIALS

Document = dict[str, Any]


@dataclass(frozen=True)
class KeptTrial:
    """A trial as it is kept; `first_plan` is None until its first readings came."""

    id: str
    owner: str
    version: int
    document: Document
    first_plan: Document | None
    created_at: str
    changed_at: str


@dataclass(frozen=True)
class Change:
    """A change with its reason; `before` and `after` hold the fields that changed."""

    number: int
    at: str
    reason: str
    before: Document
    after: Document


def new_id() -> str:
    """128 random bits in hexadecimal digits."""
    return secrets.token_hex(16)


def insert_trial(connection: Connection, owner: str, document: Mapping[str, Any]) -> KeptTrial:
    """Keep a trial; its version is 1."""
    now = now_text()
    trial = KeptTrial(new_id(), owner, 1, dict(document), None, now, now)
    values = {**vars(trial), "document": json_of(document), "first_plan": None}
    connection.execute(insert(TRIALS).values(**values))
    return trial


def find_trial(connection: Connection, owner: str, trial_id: str, *, lock: bool = False) -> KeptTrial | None:
    """The owner's trial of that id; with `lock` nobody else changes it until the transaction ends."""
    wanted = select(TRIALS).where(TRIALS.c.id == trial_id, TRIALS.c.owner == owner)
    row = connection.execute(wanted.with_for_update() if lock else wanted).one_or_none()
    return None if row is None else _trial(row)


def trials_after(
    connection: Connection, owner: str, after: tuple[str, str] | None, *, limit: int
) -> list[KeptTrial]:
    """The owner's trials, the newest first, beginning behind the one of (created_at, id) `after`."""
    page = newest_first(select(TRIALS).where(TRIALS.c.owner == owner), TRIALS, after, limit=limit)
    return [_trial(row) for row in connection.execute(page)]


def update_trial(
    connection: Connection,
    trial: KeptTrial,
    *,
    document: Mapping[str, Any] | None = None,
    first_plan: Mapping[str, Any] | None = None,
) -> int:
    """Change a trial that was found with `lock`; its new version."""
    values: dict[str, Any] = {"version": trial.version + 1, "changed_at": now_text()}
    if document is not None:
        values["document"] = json_of(document)
    if first_plan is not None:
        values["first_plan"] = json_of(first_plan)
    connection.execute(update(TRIALS).where(TRIALS.c.id == trial.id).values(**values))
    return trial.version + 1


def delete_trial(connection: Connection, trial: KeptTrial) -> None:
    """Remove a trial with everything that belongs to it."""
    connection.execute(delete(TRIALS).where(TRIALS.c.id == trial.id))


def insert_change(
    connection: Connection, trial_id: str, reason: str, *, before: Document, after: Document
) -> None:
    """Keep what was changed and why."""
    last = select(func.coalesce(func.max(TRIAL_CHANGES.c.number), 0)).where(
        TRIAL_CHANGES.c.trial_id == trial_id
    )
    number = int(connection.execute(last).scalar_one()) + 1
    values = {"number": number, "at": now_text(), "reason": reason}
    texts = {"before": json_of(before), "after": json_of(after)}
    connection.execute(insert(TRIAL_CHANGES).values(trial_id=trial_id, **values, **texts))


def changes_of(connection: Connection, trial_id: str) -> list[Change]:
    """The changes of a trial in order."""
    wanted = (
        select(TRIAL_CHANGES).where(TRIAL_CHANGES.c.trial_id == trial_id).order_by(TRIAL_CHANGES.c.number)
    )
    return [
        Change(row.number, row.at, row.reason, json.loads(row.before), json.loads(row.after))
        for row in connection.execute(wanted)
    ]


def batch_counts(connection: Connection, trial_ids: list[str]) -> dict[str, int]:
    """How many batches each of the trials has."""
    counted = select(BATCHES.c.trial_id, func.count()).where(BATCHES.c.trial_id.in_(trial_ids))
    return {row[0]: row[1] for row in connection.execute(counted.group_by(BATCHES.c.trial_id))}


def json_of(document: object) -> str:
    """The JSON text that is kept."""
    return json.dumps(document, ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def _trial(row: Row[Any]) -> KeptTrial:
    first_plan = None if row.first_plan is None else json.loads(row.first_plan)
    return KeptTrial(
        id=row.id,
        owner=row.owner,
        version=row.version,
        document=json.loads(row.document),
        first_plan=first_plan,
        created_at=row.created_at,
        changed_at=row.changed_at,
    )
