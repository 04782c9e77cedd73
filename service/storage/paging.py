"""Rows in pages: the newest first, each page beginning behind the last row of the one before."""

from typing import Any

from sqlalchemy import Select, Table, tuple_


def newest_first(
    wanted: Select[Any], table: Table, after: tuple[str, str] | None, *, limit: int
) -> Select[Any]:
    """A page of what is wanted of the table, behind the row of (created_at, id) `after`."""
    place = tuple_(table.c.created_at, table.c.id)
    if after is not None:
        wanted = wanted.where(place < tuple_(*after))
    return wanted.order_by(table.c.created_at.desc(), table.c.id.desc()).limit(limit)
