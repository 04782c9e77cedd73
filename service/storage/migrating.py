"""Bringing the tables up to date when the database is opened, one program at a time."""

import threading
from pathlib import Path

from sqlalchemy import Connection, Engine, inspect, text

from service.errors import ServiceError
from service.storage.engines import is_sqlite

HEAD = "deliveries"
"""The revision that this program works with."""
ADVISORY_LOCK = 4_711_208_533
MIGRATIONS = Path(__file__).parent / "migrations"
_one_upgrade = threading.Lock()
"""The steps find their connection in globals of the library: two upgrades in one process, of different
databases too, would write through each other's connection."""


class NewerTables(ServiceError):
    """The tables were made by a newer version of this program."""


def migrate(engine: Engine) -> None:
    """Make or change the tables where they are not those of this version; nothing where they are.

    Several programs may do so at once: on SQLite the transaction holds the write lock, on PostgreSQL an
    advisory lock, and who comes second finds the work done. Raises NewerTables.
    """
    with engine.connect().execution_options(reads_only=True) as connection:
        if revision_of(connection) == HEAD:
            return
    with engine.begin() as connection:
        if not is_sqlite(engine):
            connection.execute(text("SELECT pg_advisory_xact_lock(:lock)"), {"lock": ADVISORY_LOCK})
        if revision_of(connection) != HEAD:
            _upgrade(connection)


def revision_of(connection: Connection) -> str | None:
    """The revision of the tables, None where there are none."""
    if not inspect(connection).has_table("alembic_version"):
        return None
    return connection.execute(text("SELECT version_num FROM alembic_version")).scalar()


def _upgrade(connection: Connection) -> None:
    from alembic import command
    from alembic.config import Config
    from alembic.util import CommandError

    configuration = Config()
    configuration.set_main_option("script_location", str(MIGRATIONS))
    configuration.attributes["connection"] = connection
    try:
        with _one_upgrade:
            command.upgrade(configuration, HEAD)
    except CommandError as error:
        raise NewerTables(
            "The database was made by a newer version of this program. Use that version, or another database."
        ) from error
