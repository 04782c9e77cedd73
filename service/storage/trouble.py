"""What a database's driver raises, in the errors of this service."""

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import DataError, DBAPIError, IntegrityError, NotSupportedError, ProgrammingError
from sqlalchemy.exc import TimeoutError as NoConnectionFree

from service.errors import ServiceError, StorageFull, StorageUnavailable

SQLITE_FULL = 13
POSTGRESQL_FULL = "53100"
LOCKED = frozenset({5, 6, "40001", "40P01", "55P03"})
"""SQLite's busy and locked; PostgreSQL's serialisation failure, deadlock and lock that is not to be had."""
READ_ONLY = frozenset({8, "25006"})
"""SQLite's file that may not be written; PostgreSQL's transaction that only reads, as a stand-by allows."""
OF_THE_PROGRAM = (ProgrammingError, IntegrityError, DataError, NotSupportedError)
AWAY = frozenset({10, 11, 14, 15, 26, None, "08", "53", "57", "58", "25P03"})
"""SQLite: input or output error, damaged, cannot open, locking fails, no database. PostgreSQL: no code,
because no server answered, the classes connection, resources, operator intervention and system, and a
transaction that the server ended because nobody went on with it."""
TRY_AGAIN = {"Retry-After": "5"}
TRY_SOON = {"Retry-After": "1"}


@contextmanager
def translated() -> Iterator[None]:
    """Raise StorageFull and StorageUnavailable for what the driver raises; other errors pass."""
    try:
        yield
    except DBAPIError as error:
        told = _told(error)
        if told is None:
            raise
        raise told from error
    except NoConnectionFree as error:
        raise StorageUnavailable(
            "All connections to the database are in use. Try again.", headers=TRY_SOON
        ) from error


def _told(error: DBAPIError) -> ServiceError | None:
    code = code_of(error)
    if code in {SQLITE_FULL, POSTGRESQL_FULL}:
        return StorageFull(
            "The disk of the database is full. Nothing of this request was kept. "
            "Make room on it, then send the request again."
        )
    if code in LOCKED:
        return StorageUnavailable("The database is locked by another request. Try again.", headers=TRY_SOON)
    if code in READ_ONLY:
        return StorageUnavailable(
            "The database may only be read now; nothing of this request was kept. Try again.",
            headers=TRY_AGAIN,
        )
    state = code[:2] if isinstance(code, str) else code
    if error.connection_invalidated or ({code, state} & AWAY and not isinstance(error, OF_THE_PROGRAM)):
        return StorageUnavailable("The database does not answer now. Try again.", headers=TRY_AGAIN)
    return None


def code_of(error: DBAPIError) -> int | str | None:
    """SQLite's primary result code or PostgreSQL's SQLSTATE, None where the driver gives neither."""
    code = getattr(error.orig, "sqlite_errorcode", None)
    if code is not None:
        return int(code) & 0xFF
    state = getattr(error.orig, "sqlstate", None)
    return None if state is None else str(state)
