"""Rows of idempotency keys: a request is claimed, worked on, and its answer kept with what it did."""

import json
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from sqlalchemy import Connection, delete, insert, select, update
from sqlalchemy.exc import IntegrityError

from service.storage.clock import now_text
from service.storage.holders import Holder
from service.storage.tables import IDEMPOTENCY_KEYS
from service.storage.trial_rows import json_of

KEPT_HOURS = 48
RUNNING, DONE = "running", "done"


@dataclass(frozen=True)
class KeyRow:
    """A key as it is kept; `status` and `answer` are those of a request that is done."""

    request: str
    body_sha256: str
    state: str
    holder: str
    created_at: str
    status: int | None
    answer: dict[str, Any] | None


@dataclass(frozen=True)
class Claim:
    """A request that is being worked on under a key."""

    owner: str
    key: str
    request: str
    body_sha256: str
    holder: Holder


def find_key(connection: Connection, owner: str, key: str) -> KeyRow | None:
    """What is kept under the owner's key, locked until the transaction ends."""
    keys = IDEMPOTENCY_KEYS
    wanted = select(keys).where(keys.c.owner == owner, keys.c.key == key).with_for_update()
    row = connection.execute(wanted).one_or_none()
    if row is None:
        return None
    answer = None if row.answer is None else json.loads(row.answer)
    return KeyRow(
        row.request, row.body_sha256, row.state, row.holder, row.created_at, status=row.status, answer=answer
    )


def insert_claim(connection: Connection, claim: Claim) -> bool:
    """Write the claim down; False where another has come first. Old keys are removed."""
    keys = IDEMPOTENCY_KEYS
    connection.execute(delete(keys).where(keys.c.created_at < now_text(plus=-timedelta(hours=KEPT_HOURS))))
    values = {"request": claim.request, "body_sha256": claim.body_sha256, "state": RUNNING}
    try:
        with connection.begin_nested():
            connection.execute(
                insert(keys).values(
                    owner=claim.owner,
                    key=claim.key,
                    holder=str(claim.holder),
                    created_at=now_text(),
                    **values,
                )
            )
    except IntegrityError:
        return False
    return True


def drop_key(connection: Connection, owner: str, key: str, *, holder: str) -> None:
    """Remove the key that a holder runs; one that is done stays."""
    keys = IDEMPOTENCY_KEYS
    mine = (keys.c.owner == owner, keys.c.key == key, keys.c.holder == holder, keys.c.state == RUNNING)
    connection.execute(delete(keys).where(*mine))


def finish_claim(connection: Connection, claim: Claim, *, status: int, answer: dict[str, Any]) -> bool:
    """Keep the answer, in the transaction that did the work; False where another has taken the key over."""
    keys = IDEMPOTENCY_KEYS
    mine = (keys.c.owner == claim.owner, keys.c.key == claim.key, keys.c.holder == str(claim.holder))
    done = update(keys).where(*mine, keys.c.state == RUNNING)
    changed = connection.execute(done.values(state=DONE, status=status, answer=json_of(answer)))
    return changed.rowcount == 1
