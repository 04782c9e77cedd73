"""`aerial-assay backup` and `aerial-assay restore`."""

import os
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import click

from service.operations.environment import opened_database, present_settings, told_errors

if TYPE_CHECKING:
    from service.storage import Database

BACKUP_EXAMPLE = """\b
Example:
  aerial-assay backup trials.zip"""
RESTORE_EXAMPLE = """\b
Example:
  aerial-assay restore trials.zip"""
FILE = click.Path(path_type=Path, dir_okay=False)


@click.command(epilog=BACKUP_EXAMPLE, short_help="Write all that is kept to a file.")
@click.argument("file", type=FILE)
@click.option("--overwrite", is_flag=True, help="Replace FILE if it is there.")
def backup(*, file: Path, overwrite: bool) -> None:
    """Write all that is kept to FILE, a zip, as it is at this moment; servers may go on meanwhile.

    FILE holds the digests of the tokens, and is made readable for you alone.
    """
    present = present_settings()
    if file.exists() and not overwrite:
        raise click.ClickException(f"{file} is there already. Name another file, or say --overwrite.")
    _refuse_missing(present.database)
    with opened_database(present) as database:
        counts = _written(database, file)
    click.echo(f"Written to {file}: {_told(counts)}.")


@click.command(epilog=RESTORE_EXAMPLE, short_help="Put a backup into an empty database.")
@click.argument("file", type=FILE)
@click.option("--overwrite", is_flag=True, help="Lose what the database holds.")
def restore(*, file: Path, overwrite: bool) -> None:
    """Put what `backup` wrote to FILE into the database, an empty one: all of it, or nothing.

    A backup of one kind of database may be restored into the other. Stop the servers of the database first.
    """
    from service.storage.dump import load

    with told_errors(), file.open("rb") as source, opened_database(present_settings()) as database:
        counts = load(database, source, overwrite=overwrite)
    click.echo(f"Restored from {file}: {_told(counts)}.")


def _refuse_missing(stated: str | None) -> None:
    from service.storage.place import database_url, is_there, without_password

    url = database_url(stated)
    if not is_there(url):
        raise click.ClickException(f"There is no database yet at {without_password(url)}.")


def _written(database: "Database", file: Path) -> Mapping[str, int]:
    """Write beside the file first and rename when all is on disk, so that no half a backup is ever there."""
    from tempfile import NamedTemporaryFile

    from service.storage.dump import dump
    from service.storage.snapshot import snapshot

    folder = file.absolute().parent
    with NamedTemporaryFile(dir=folder, prefix=f".{file.name}-", delete=False) as part:
        try:
            with snapshot(database, folder=folder) as connection:
                counts = dump(connection, part)
            part.flush()
            os.fsync(part.fileno())
            Path(part.name).replace(file)
        finally:
            Path(part.name).unlink(missing_ok=True)
    return counts


def _told(counts: Mapping[str, int]) -> str:
    return ", ".join(f"{count} {name.replace('_', ' ')}" for name, count in counts.items())
