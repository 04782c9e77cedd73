"""A look at the whole database as it was at one moment, while others go on writing."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from sqlalchemy import Connection

from service.errors import ServiceError
from service.storage.database import Database
from service.storage.engines import is_sqlite
from service.storage.trouble import translated


class Damaged(ServiceError):
    """The database or a backup of it is not what was once written."""


@contextmanager
def snapshot(database: Database, *, folder: Path) -> Iterator[Connection]:
    """A connection that reads everything from one moment.

    PostgreSQL gives this itself. SQLite is copied first, by its online backup, to a file in `folder` that is
    gone afterwards: so the copy can be checked page by page, and nobody waits for a slow reader.

    Raises Damaged where the copy fails its check.
    """
    if not is_sqlite(database.open()):
        with database.reading() as connection:
            yield connection
        return
    with TemporaryDirectory(dir=folder, prefix=".snapshot-") as place:
        copy = Path(place) / "copy.sqlite3"
        with translated():
            _copy(database, copy)
        check_pages(copy)
        copied = Database(f"sqlite:///{copy}")
        try:
            with copied.reading() as connection:
                yield connection
        finally:
            copied.close()


def check_pages(file: Path) -> None:
    """Let SQLite check every page and index of a file. Raises Damaged with the first thing that it finds."""
    try:
        with closing(sqlite3.connect(file)) as connection:
            (found,) = connection.execute("PRAGMA integrity_check(1)").fetchone()
    except sqlite3.DatabaseError as error:
        found = str(error)
    if found != "ok":
        raise Damaged(f"The database is damaged: {found}. Restore the last backup of it into a new place.")


def _copy(database: Database, file: Path) -> None:
    with closing(database.open().raw_connection()) as source, closing(sqlite3.connect(file)) as target:
        driver = source.driver_connection
        if not isinstance(driver, sqlite3.Connection):
            raise TypeError("not a connection of sqlite3")
        driver.backup(target)
