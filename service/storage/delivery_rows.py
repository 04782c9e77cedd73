"""Rows of deliveries: what a webhook is to be told, from the verdict until it was taken or given up.

Every step is one UPDATE that names the state it starts from, so that of two who take it one comes first.
"""

from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from sqlalchemy import Connection, Row, and_, insert, or_, select, update

from service.storage.clock import now_text
from service.storage.tables import DELIVERIES

WAITING, SENDING, SENT, GIVEN_UP = "waiting", "sending", "sent", "given up"
AT_ONCE = 100


@dataclass(frozen=True)
class Delivery:
    """A notice and how far it has come. holder has it in hand since held_at while it is being sent."""

    id: str
    analysis_id: str
    notice: str
    state: str
    tries: int
    created_at: str
    due_at: str
    holder: str | None
    held_at: str | None
    ended_at: str | None
    trouble: str | None


def insert_delivery(connection: Connection, delivery_id: str, analysis_id: str, *, notice: str) -> None:
    """Let a notice wait to be sent at once."""
    now = now_text()
    begun = {"state": WAITING, "tries": 0, "created_at": now, "due_at": now}
    connection.execute(
        insert(DELIVERIES).values(id=delivery_id, analysis_id=analysis_id, notice=notice, **begun)
    )


def open_deliveries(connection: Connection, *, longest_wait: timedelta) -> list[Delivery]:
    """Those that are being sent, and those whose time has come, the longest due first, some of each.

    One that would wait for longer than any does was written before the clock was set back: it is due.
    """
    now, beyond = now_text(), now_text(plus=longest_wait)
    due = and_(DELIVERIES.c.state == WAITING, or_(DELIVERIES.c.due_at <= now, DELIVERIES.c.due_at > beyond))
    wanted = select(DELIVERIES).where(or_(due, DELIVERIES.c.state == SENDING))
    ordered = wanted.order_by(DELIVERIES.c.due_at, DELIVERIES.c.id).limit(AT_ONCE)
    return [_delivery(row) for row in connection.execute(ordered)]


def take(connection: Connection, seen: Delivery, holder: str) -> bool:
    """Let the holder send one that nobody has taken, and nothing came of, since it was seen; a try begins."""
    as_seen = (
        DELIVERIES.c.id == seen.id,
        DELIVERIES.c.state == seen.state,
        DELIVERIES.c.tries == seen.tries,
        DELIVERIES.c.holder.is_not_distinct_from(seen.holder),
    )
    held = {"state": SENDING, "holder": holder, "held_at": now_text(), "tries": seen.tries + 1}
    return connection.execute(update(DELIVERIES).where(*as_seen).values(**held)).rowcount == 1


def sent(connection: Connection, delivery_id: str, holder: str) -> bool:
    """Note that it was taken; False where the holder does not have it any more."""
    return _leave(connection, delivery_id, holder, state=SENT, ended_at=now_text(), trouble=None)


def give_up(connection: Connection, delivery_id: str, holder: str, *, trouble: str) -> bool:
    """Note that it is not tried again; False where the holder does not have it any more."""
    return _leave(connection, delivery_id, holder, state=GIVEN_UP, ended_at=now_text(), trouble=trouble)


def put_off(connection: Connection, delivery_id: str, holder: str, *, trouble: str, pause: timedelta) -> bool:
    """Let it wait for another try; False where the holder does not have it any more."""
    due_at = now_text(plus=pause)
    return _leave(connection, delivery_id, holder, state=WAITING, due_at=due_at, trouble=trouble)


def _leave(connection: Connection, delivery_id: str, holder: str, **values: Any) -> bool:
    held = (DELIVERIES.c.id == delivery_id, DELIVERIES.c.holder == holder, DELIVERIES.c.state == SENDING)
    left = {"holder": None, "held_at": None, **values}
    return connection.execute(update(DELIVERIES).where(*held).values(**left)).rowcount == 1


def _delivery(row: Row[Any]) -> Delivery:
    return Delivery(**row._mapping)
