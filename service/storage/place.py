"""Where the database is: the URL that was stated, else a file in the user's data folder."""

from pathlib import Path

from sqlalchemy.engine import make_url
from sqlalchemy.exc import ArgumentError

from service.storage.engines import SQLITE, default_url


def database_url(stated: str | None) -> str:
    """The SQLAlchemy URL of the database, `stated` if it is given. Nothing is made."""
    return stated or default_url()


def is_there(url: str) -> bool:
    """Whether the database may be asked without being made by that: a server, or a file that exists."""
    try:
        parts = make_url(url)
    except ArgumentError:
        return True  # whoever opens it says what is wrong with it
    return parts.get_backend_name() != SQLITE or Path(parts.database or "").is_file()


def without_password(url: str) -> str:
    """The URL as it may be shown: passwords as ***, and nothing at all of a URL that cannot be read."""
    try:
        parts = make_url(url)
    except ArgumentError:
        return "***"
    hidden = {name: "***" for name in parts.query if "password" in name.lower()}
    text = parts.update_query_dict(hidden).render_as_string(hide_password=True)
    return text.replace("%2A%2A%2A", "***")
