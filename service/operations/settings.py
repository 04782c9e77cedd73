"""`aerial-assay settings`."""

from typing import TYPE_CHECKING
from urllib.parse import urlsplit

import click

from service.operations.environment import present_settings
from service.settings import NAMES, OWN, PREFIX

if TYPE_CHECKING:
    from service.settings import Settings

EXAMPLE = """\b
Example:
  aerial-assay settings"""


@click.command(epilog=EXAMPLE, short_help="Show every setting and where it came from.")
def settings() -> None:
    """Show every setting, its value, and where that came from. Passwords and secrets are shown as ***."""
    present = present_settings()
    rows = [(PREFIX + name.upper(), _value(present, name), _origin(present, name)) for name in NAMES]
    widths = [max(len(row[place]) for row in rows) for place in (0, 1)]
    for name, value, origin in rows:
        click.echo(f"{name:<{widths[0]}}  {value:<{widths[1]}}  {origin}")


def _value(present: "Settings", name: str) -> str:
    if name == "database":
        from service.storage.place import database_url, without_password

        return without_password(database_url(present.database))
    if name == "references" and present.references is None:
        return "(a folder in the user's cache)"
    value = getattr(present if name in OWN else present.limits, name)
    if name in {"webhook", "webhook_secret"}:
        return "(none)" if value is None else _without_path(value) if name == "webhook" else "***"
    if name == "compute" and "://" in value:
        from service.storage.place import without_password

        return without_password(value)
    return ",".join(value) if isinstance(value, tuple) else str(value)


def _without_path(url: str) -> str:
    """A URL as it may be shown: who may post to it is often told by its path or query alone."""
    parts = urlsplit(url)
    return f"{parts.scheme}://{parts.netloc}/***"


def _origin(present: "Settings", name: str) -> str:
    origin = present.origin(name)
    return origin if origin == "default" else "environment"
