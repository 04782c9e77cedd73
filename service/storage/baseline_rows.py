"""Rows of baselines that are kept by name. Every function finds only what belongs to the owner."""

from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Row, delete, exists, insert, select
from sqlalchemy.exc import IntegrityError

from service.storage.paging import newest_first
from service.storage.tables import BASELINES, TRIALS

LAST_READING, NAMING = "last reading", "naming"


@dataclass(frozen=True)
class BaselineRow:
    """A baseline as it is kept; `trial_kept` tells whether its trial is still there."""

    id: str
    owner: str
    name: str
    trial_id: str
    element: str
    date: str
    date_from: str
    note: str | None
    created_at: str
    trial_kept: bool = True


_COLUMNS = (
    BASELINES,
    exists()
    .where(TRIALS.c.id == BASELINES.c.trial_id, TRIALS.c.owner == BASELINES.c.owner)
    .label("trial_kept"),
)


def insert_baseline(connection: Connection, baseline: BaselineRow) -> bool:
    """Keep a baseline; False where the owner has one of that name."""
    values = {name: value for name, value in vars(baseline).items() if name != "trial_kept"}
    try:
        with connection.begin_nested():
            connection.execute(insert(BASELINES).values(**values))
    except IntegrityError:
        return False
    return True


def find_baseline(
    connection: Connection, owner: str, *, baseline_id: str | None = None, name: str | None = None
) -> BaselineRow | None:
    """The owner's baseline of that id, or of that name."""
    wanted = select(*_COLUMNS).where(BASELINES.c.owner == owner)
    column, value = (BASELINES.c.id, baseline_id) if name is None else (BASELINES.c.name, name)
    row = connection.execute(wanted.where(column == value)).one_or_none()
    return None if row is None else _baseline(row)


def baselines_after(
    connection: Connection, owner: str, after: tuple[str, str] | None, *, limit: int
) -> list[BaselineRow]:
    """The owner's baselines, the newest first, beginning behind the one of (created_at, id) `after`."""
    wanted = select(*_COLUMNS).where(BASELINES.c.owner == owner)
    page = newest_first(wanted, BASELINES, after, limit=limit)
    return [_baseline(row) for row in connection.execute(page)]


def delete_baseline(connection: Connection, baseline: BaselineRow) -> None:
    """Remove a baseline; its trial stays."""
    connection.execute(delete(BASELINES).where(BASELINES.c.id == baseline.id))


def _baseline(row: Row[Any]) -> BaselineRow:
    return BaselineRow(**{**row._mapping, "trial_kept": bool(row.trial_kept)})
