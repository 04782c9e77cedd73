"""Idempotency keys: a request that is repeated under its key gets its first answer and does nothing again."""

from collections import deque
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from service.errors import BadInput, Conflict, Fault, ServiceError
from service.settings import Limits
from service.storage import Connection, Database, key_rows
from service.storage.holders import Holder, is_gone
from service.storage.key_rows import DONE, Claim, KeyRow

LONGEST_KEY = 255
SPARE_SECONDS = 120
"""Beyond the time of an analysis, after which a request can no longer be under way."""
MOST_OWED = 1_000
"""Claims of which it is remembered that they are to be given free; older ones run out."""


@dataclass(frozen=True)
class Keyed:
    """A request with its key: what it asks for (method, path and query) and the digest of its body."""

    key: str
    request: str
    body_sha256: str


@dataclass(frozen=True)
class Answer:
    """What was answered: the status and the document, and whether it had been answered before."""

    status: int
    document: dict[str, Any]
    repeated: bool = False


def check_key(key: str) -> str:
    """The key. Raises BadInput for one that is empty or too long."""
    if not 1 <= len(key) <= LONGEST_KEY:
        detail = f"An Idempotency-Key is a text of 1 to {LONGEST_KEY} characters."
        raise BadInput([Fault(detail, column="Idempotency-Key", given=key[:80])])
    return key


def claim_or_answer(connection: Connection, owner: str, keyed: Keyed, *, limits: Limits) -> Claim | Answer:
    """The request as ours to work on, or the answer that it got before.

    Raises BadInput where the key was used for another request, Conflict while it is being worked on.
    """
    claim = Claim(owner, keyed.key, keyed.request, keyed.body_sha256, Holder())
    row = key_rows.find_key(connection, owner, keyed.key)
    if row is not None and row.state != DONE and _is_over(row, limits):
        key_rows.drop_key(connection, owner, keyed.key, holder=row.holder)
        row = None
    if row is None and key_rows.insert_claim(connection, claim):
        return claim
    row = row or key_rows.find_key(connection, owner, keyed.key)
    if row is None or (row.state != DONE and _is_same(row, keyed)):
        raise _under_way()
    if not _is_same(row, keyed):
        detail = "This Idempotency-Key was used for another request. Give each request a key of its own."
        raise BadInput([Fault(detail, column="Idempotency-Key", given=keyed.key[:80])])
    return Answer(int(row.status or 201), dict(row.answer or {}), repeated=True)


def finish(connection: Connection, claim: Claim | None, answer: Answer) -> None:
    """Keep the answer under its key. Raises Conflict where another has taken the request over."""
    if claim is not None and not key_rows.finish_claim(
        connection, claim, status=answer.status, answer=answer.document
    ):
        raise _under_way()


class Releases:
    """Gives keys free under which nothing was done; used by any number of threads.

    What cannot be written, because the database is away or its disk full, is owed and written with the next
    transaction: else the request would seem under way until its time is over, though the database is back.
    """

    def __init__(self, database: Database):
        self._database = database
        self._owed: deque[Claim] = deque(maxlen=MOST_OWED)

    def release(self, claim: Claim) -> None:
        """Give the key free, now or as soon as the database is back."""
        self._owed.append(claim)
        with suppress(ServiceError), self.writing():
            pass

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """A transaction that writes; with it goes what is owed."""
        owed = tuple(self._owed)
        with self._database.begin() as connection:
            for claim in owed:
                key_rows.drop_key(connection, claim.owner, claim.key, holder=str(claim.holder))
            yield connection
        for claim in owed:
            with suppress(ValueError):  # another thread has written it too
                self._owed.remove(claim)


def _is_same(row: KeyRow, keyed: Keyed) -> bool:
    return (row.request, row.body_sha256) == (keyed.request, keyed.body_sha256)


def _is_over(row: KeyRow, limits: Limits) -> bool:
    at_most = timedelta(seconds=limits.analysis_seconds + SPARE_SECONDS)
    return is_gone(row.holder, row.created_at, at_most=at_most)


def _under_way() -> Conflict:
    return Conflict(
        "The first request with this Idempotency-Key is still being worked on. Ask again in a moment.",
        headers={"Retry-After": "1"},
    )
