"""Rows of batches: what came, and how it was understood, column by column."""

import json
import zlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Column, Connection, Row, func, insert, select

from service.storage.clock import now_text
from service.storage.packing import digest_of
from service.storage.tables import BATCHES
from service.storage.trial_rows import json_of, new_id

READINGS, CORRECTION, WITHDRAWAL = "readings", "correction", "withdrawal"
ACCOUNT: tuple[Column[Any], ...] = (
    BATCHES.c.number,
    BATCHES.c.received_at,
    BATCHES.c.kind,
    BATCHES.c.rows,
    BATCHES.c.reason,
    BATCHES.c.withdraws,
    BATCHES.c.media_type,
    BATCHES.c.holds,
)
PACKED: tuple[Column[Any], ...] = (
    BATCHES.c.number,
    BATCHES.c.kind,
    BATCHES.c.columns,
    BATCHES.c.columns_sha256,
    BATCHES.c.names,
    BATCHES.c.read_as,
)
"""What an `Account` and what `KeptColumns` hold."""


@dataclass(frozen=True)
class Content:
    """A batch before it is kept: the bytes that came, and the columns that they were understood as.

    `body` is compressed, `columns` is what `packing.packed` makes, `names` the texts that the codes of each
    column stand for.
    """

    media_type: str
    body: bytes = zlib.compress(b"")
    body_sha256: str = digest_of(b"")
    columns: bytes = b""
    names: Mapping[str, Sequence[str]] = field(default_factory=dict)
    holds: Mapping[str, Any] = field(default_factory=dict)
    rows: int = 0
    read_as: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Kind:
    """What a batch is for: its kind, and the reason where it corrects or withdraws."""

    name: str = READINGS
    reason: str | None = None
    withdraws: int | None = None


@dataclass(frozen=True)
class Account:
    """What is known of a batch without its readings."""

    number: int
    received_at: str
    kind: str
    rows: int
    reason: str | None
    withdraws: int | None
    media_type: str
    holds: Mapping[str, Any]


@dataclass(frozen=True)
class KeptColumns:
    """The readings of one batch, still packed."""

    number: int
    kind: str
    columns: bytes
    columns_sha256: str
    names: Mapping[str, Sequence[str]]
    read_as: Mapping[str, Any]


def compressed(body: bytes) -> dict[str, Any]:
    """The fields of a `Content` that keep a body."""
    return {"body": zlib.compress(body, 1), "body_sha256": digest_of(body)}


def insert_batch(connection: Connection, trial_id: str, content: Content, *, kind: Kind) -> int:
    """Keep a batch of a trial that was found with `lock`; its number, counted from 1."""
    last = select(func.coalesce(func.max(BATCHES.c.number), 0)).where(BATCHES.c.trial_id == trial_id)
    number = int(connection.execute(last).scalar_one()) + 1
    connection.execute(
        insert(BATCHES).values(
            id=new_id(),
            trial_id=trial_id,
            number=number,
            received_at=now_text(),
            kind=kind.name,
            reason=kind.reason,
            withdraws=kind.withdraws,
            media_type=content.media_type,
            body=content.body,
            body_sha256=content.body_sha256,
            columns=content.columns,
            columns_sha256=digest_of(content.columns),
            names=json_of(content.names),
            holds=json_of(content.holds),
            rows=content.rows,
            read_as=json_of(content.read_as),
        )
    )
    return number


def accounts_of(connection: Connection, trial_id: str) -> list[Account]:
    """The batches of a trial in order, without their readings."""
    wanted = select(*ACCOUNT).where(BATCHES.c.trial_id == trial_id).order_by(BATCHES.c.number)
    return [_account(row) for row in connection.execute(wanted)]


def columns_of_batches(connection: Connection, trial_id: str, numbers: Iterable[int]) -> list[KeptColumns]:
    """The readings of some batches of a trial, in order."""
    wanted = (
        select(*PACKED)
        .where(BATCHES.c.trial_id == trial_id, BATCHES.c.number.in_(list(numbers)))
        .order_by(BATCHES.c.number)
    )
    return [_packed(row) for row in connection.execute(wanted)]


def body_of(connection: Connection, trial_id: str, number: int) -> bytes | None:
    """The bytes of a batch as they came."""
    wanted = select(BATCHES.c.body).where(BATCHES.c.trial_id == trial_id, BATCHES.c.number == number)
    body = connection.execute(wanted).scalar_one_or_none()
    return None if body is None else zlib.decompress(body)


def _account(row: Row[Any]) -> Account:
    return Account(**{**row._mapping, "holds": json.loads(row.holds)})


def _packed(row: Row[Any]) -> KeptColumns:
    read = {"names": json.loads(row.names), "read_as": json.loads(row.read_as)}
    return KeptColumns(**{**row._mapping, "columns": bytes(row.columns), **read})
