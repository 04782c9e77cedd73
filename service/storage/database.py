"""The database: transactions on it, and its errors in the words of this service."""

import threading
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager

from sqlalchemy import Connection, Engine, text

from service.errors import ServiceError, StorageUnavailable
from service.storage.engines import engine_of, is_sqlite
from service.storage.migrating import migrate
from service.storage.trouble import translated

__all__ = ["Connection", "Database", "open_database"]


class Database:
    """Transactions on the database at a URL; used by any number of threads.

    It is opened, and its tables brought up to date, when it is first used; where that fails, the next use
    tries again.
    """

    def __init__(self, url: str):
        self._url = url
        self._engine: Engine | None = None
        self._opening = threading.Lock()

    def open(self) -> Engine:
        """The engine, opened now if it is not yet.

        Raises StorageUnavailable where it does not answer, StorageFull, UnusableUrl and NewerTables.
        """
        if self._engine is None:
            with self._opening, translated():
                self._engine = self._engine or _opened(self._url)
        return self._engine

    @contextmanager
    def begin(self) -> Iterator[Connection]:
        """A transaction that writes: committed at the end, rolled back where anything is raised.

        On SQLite it holds the one write lock from its start, so what it reads is still so when it writes.
        Raises StorageFull and StorageUnavailable.
        """
        engine = self.open()
        with translated(), engine.begin() as connection:
            yield connection

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """A transaction that only reads, all of it from one moment; it waits for no writer."""
        engine = self.open()
        with translated(), engine.connect() as connection:
            options = {} if is_sqlite(engine) else {"isolation_level": "REPEATABLE READ"}
            reader = connection.execution_options(reads_only=True, **options)
            with reader.begin():
                yield reader

    def ready(self) -> bool:
        """Whether it answers."""
        try:
            with self.reading() as connection:
                connection.execute(text("SELECT 1"))
        except ServiceError:
            return False
        return True

    def close(self) -> None:
        """Close all connections; a later use opens it again."""
        if self._engine is not None:
            self._engine.dispose()


def _opened(url: str) -> Engine:
    try:
        engine = engine_of(url)
    except OSError as error:
        why = error.strerror or type(error).__name__
        raise StorageUnavailable(f"The folder of the database cannot be used: {why}.") from error
    with ExitStack() as undo:
        undo.callback(engine.dispose)
        migrate(engine)
        undo.pop_all()
    return engine


def open_database(url: str) -> Database:
    """The database at an SQLAlchemy URL, opened. Raises what `Database.open` does."""
    database = Database(url)
    database.open()
    return database
