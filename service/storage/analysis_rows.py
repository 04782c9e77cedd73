"""Rows of analyses: asked for, taken by whoever works on them, and brought to their end.

Every step is one UPDATE that names the state it starts from, so that of two who take it one comes first.
"""

import json
import zlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Row, delete, insert, select, update

from service.storage.clock import now_text
from service.storage.paging import newest_first
from service.storage.tables import ANALYSES
from service.storage.trial_rows import json_of, new_id

WAITING, RUNNING, DONE, FAILED, CANCELLED = "waiting", "running", "done", "failed", "cancelled"
OPEN = (WAITING, RUNNING)
SHOWN = tuple(column for column in ANALYSES.c if column.name != "document")


@dataclass(frozen=True)
class KeptAnalysis:
    """An analysis without its document.

    trial_version and batches (the number of the last one) are those it was asked at, and once it has begun
    those that it is of. worker holds it while it is running. problem tells why it failed.
    """

    id: str
    trial_id: str
    owner: str
    trial_version: int
    batches: int
    state: str
    stage: str | None
    created_at: str
    started_at: str | None
    finished_at: str | None
    heartbeat_at: str | None
    worker: str | None
    problem: Mapping[str, Any] | None
    prefer_async: bool


def insert_analysis(
    connection: Connection, owner: str, trial_id: str, *, version: int, batches: int, worker: str | None
) -> KeptAnalysis:
    """Ask for an analysis: held by the worker that begins at once, or waiting for one."""
    now = now_text()
    begun = None if worker is None else now
    analysis = KeptAnalysis(
        id=new_id(),
        trial_id=trial_id,
        owner=owner,
        trial_version=version,
        batches=batches,
        state=WAITING if worker is None else RUNNING,
        stage=None,
        created_at=now,
        started_at=begun,
        finished_at=None,
        heartbeat_at=begun,
        worker=worker,
        problem=None,
        prefer_async=worker is None,
    )
    connection.execute(insert(ANALYSES).values(**vars(analysis)))
    return analysis


def find_analysis(connection: Connection, owner: str, analysis_id: str) -> KeptAnalysis | None:
    """The owner's analysis of that id."""
    wanted = select(*SHOWN).where(ANALYSES.c.id == analysis_id, ANALYSES.c.owner == owner)
    row = connection.execute(wanted).one_or_none()
    return None if row is None else _analysis(row)


def document_of(connection: Connection, analysis_id: str) -> dict[str, Any] | None:
    """The document of an analysis that is done."""
    packed = connection.execute(
        select(ANALYSES.c.document).where(ANALYSES.c.id == analysis_id)
    ).scalar_one_or_none()
    document: dict[str, Any] | None = None if packed is None else json.loads(zlib.decompress(packed))
    return document


def newest_analysis(
    connection: Connection, trial_id: str, version: int, *, states: Sequence[str]
) -> KeptAnalysis | None:
    """The newest analysis of a trial at a version that is in one of the states."""
    wanted = select(*SHOWN).where(
        ANALYSES.c.trial_id == trial_id, ANALYSES.c.trial_version == version, ANALYSES.c.state.in_(states)
    )
    row = connection.execute(newest_first(wanted, ANALYSES, None, limit=1)).one_or_none()
    return None if row is None else _analysis(row)


def analyses_after(
    connection: Connection, trial_id: str, after: tuple[str, str] | None, *, limit: int
) -> list[KeptAnalysis]:
    """The analyses of a trial, the newest first, beginning behind the one of (created_at, id) `after`."""
    wanted = select(*SHOWN).where(ANALYSES.c.trial_id == trial_id)
    page = newest_first(wanted, ANALYSES, after, limit=limit)
    return [_analysis(row) for row in connection.execute(page)]


def open_analyses(connection: Connection) -> list[KeptAnalysis]:
    """All analyses that wait or run, whoever owns them, the oldest first."""
    wanted = select(*SHOWN).where(ANALYSES.c.state.in_(OPEN))
    return [
        _analysis(row) for row in connection.execute(wanted.order_by(ANALYSES.c.created_at, ANALYSES.c.id))
    ]


def take(connection: Connection, seen: KeptAnalysis, worker: str) -> bool:
    """Let the worker hold an analysis that nobody has taken, finished or kept alive since it was seen."""
    now = now_text()
    as_seen = (
        ANALYSES.c.id == seen.id,
        ANALYSES.c.state == seen.state,
        ANALYSES.c.worker.is_not_distinct_from(seen.worker),
        ANALYSES.c.heartbeat_at.is_not_distinct_from(seen.heartbeat_at),
    )
    held = {"state": RUNNING, "worker": worker, "stage": None, "started_at": now, "heartbeat_at": now}
    return connection.execute(update(ANALYSES).where(*as_seen).values(**held)).rowcount == 1


def keep_alive(connection: Connection, analysis_id: str, worker: str, **seen: Any) -> bool:
    """Note that the worker is still at it, and what it has `seen` (stage, trial_version, batches).

    False where it does not hold the analysis any more.
    """
    return _change(connection, _held(analysis_id, worker), heartbeat_at=now_text(), **seen)


def still_held(connection: Connection, analysis_id: str, worker: str) -> bool:
    """Whether the worker still holds the analysis."""
    wanted = select(ANALYSES.c.id).where(*_held(analysis_id, worker))
    return connection.execute(wanted).one_or_none() is not None


def finish(connection: Connection, analysis_id: str, worker: str, *, document: Mapping[str, Any]) -> bool:
    """Keep what came of it; False, and nothing is kept, where the worker does not hold it any more."""
    packed = zlib.compress(json_of(document).encode())
    ended = {"state": DONE, "stage": None, "finished_at": now_text()}
    return _change(connection, _held(analysis_id, worker), document=packed, **ended)


def fail(connection: Connection, analysis_id: str, worker: str, *, problem: Mapping[str, Any]) -> bool:
    """Keep why nothing came of it; False where the worker does not hold it any more."""
    text = json_of(problem)
    return _change(connection, _held(analysis_id, worker), state=FAILED, problem=text, finished_at=now_text())


def put_back(connection: Connection, analysis_id: str, worker: str) -> bool:
    """Let it wait for another worker."""
    waits = {"state": WAITING, "worker": None, "stage": None, "started_at": None, "heartbeat_at": None}
    return _change(connection, _held(analysis_id, worker), **waits)


def cancel(connection: Connection, analysis_id: str) -> bool:
    """Cancel an analysis that waits or runs; False where it has come to its end."""
    still_open = (ANALYSES.c.id == analysis_id, ANALYSES.c.state.in_(OPEN))
    ended = {"state": CANCELLED, "finished_at": now_text()}
    return connection.execute(update(ANALYSES).where(*still_open).values(**ended)).rowcount == 1


def drop(connection: Connection, analysis_id: str) -> None:
    """Remove an analysis that waits: whoever asked was told that there is no room for it."""
    connection.execute(delete(ANALYSES).where(ANALYSES.c.id == analysis_id, ANALYSES.c.state == WAITING))


def _held(analysis_id: str, worker: str) -> tuple[Any, ...]:
    return (ANALYSES.c.id == analysis_id, ANALYSES.c.worker == worker, ANALYSES.c.state == RUNNING)


def _change(connection: Connection, held: tuple[Any, ...], **values: Any) -> bool:
    return connection.execute(update(ANALYSES).where(*held).values(**values)).rowcount == 1


def _analysis(row: Row[Any]) -> KeptAnalysis:
    values = dict(row._mapping)
    problem = values.pop("problem")
    return KeptAnalysis(**values, problem=None if problem is None else json.loads(problem))
