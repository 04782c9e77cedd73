"""What every command of this room starts from: the settings, the database, and errors told as such."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import click

from service.errors import ServiceError
from service.settings import SettingError, Settings, settings_from

if TYPE_CHECKING:
    from service.storage import Database


def present_settings() -> Settings:
    """The settings of the environment. Raises ClickException where one is not what it should be."""
    try:
        return settings_from(os.environ)
    except SettingError as error:
        raise click.ClickException(str(error)) from error


@contextmanager
def told_errors() -> Iterator[None]:
    """Raise as ClickException what this service refuses, and what the machine does of a file."""
    try:
        yield
    except ServiceError as error:
        raise click.ClickException(error.detail) from error
    except OSError as error:
        place = f"{error.filename}: " if error.filename else ""
        raise click.ClickException(f"{place}{error.strerror or error}.") from error


@contextmanager
def opened_database(settings: Settings) -> Iterator["Database"]:
    """The database of the settings, made where there is none yet; errors are told."""
    from service.storage import open_database
    from service.storage.place import database_url

    with told_errors():
        database = open_database(database_url(settings.database))
        try:
            yield database
        finally:
            database.close()


def any_valid_token(settings: Settings) -> bool:
    """Whether the database holds a token that lets someone in. A database that is not there is not made."""
    from service.storage.place import database_url, is_there
    from service.storage.tokens import Tokens

    if not is_there(database_url(settings.database)):
        return False
    with opened_database(settings) as database:
        return Tokens(database).any_valid()
