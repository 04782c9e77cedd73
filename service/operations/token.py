"""`aerial-assay token`: who may ask the service."""

import re
from typing import TYPE_CHECKING

import click

from service.operations.environment import opened_database, present_settings
from service.settings import SCOPES

if TYPE_CHECKING:
    from service.storage.tokens import Token

ADD_EXAMPLE = """\b
Example:
  aerial-assay token add shed-logger --may write --days 90"""
LIST_EXAMPLE = """\b
Example:
  aerial-assay token list"""
REVOKE_EXAMPLE = """\b
Example:
  aerial-assay token revoke shed-logger"""
NAME = re.compile(r"[A-Za-z0-9._@-]{1,100}")
HEAD = ("NAME", "OWNER", "MAY", "STATE", "CREATED", "EXPIRES", "LAST USED")


@click.group(epilog=LIST_EXAMPLE, short_help="Give, list and revoke tokens.")
def token() -> None:
    """Give, list and revoke the tokens by which others may ask this service."""


@token.command(epilog=ADD_EXAMPLE)
@click.argument("name")
@click.option("--owner", help="Whose trials it keeps and sees; NAME by default. '' for those kept without.")
@click.option(
    "--may",
    type=click.Choice(SCOPES),
    required=True,
    help="read: ask and be told verdicts; write: keep trials too; admin: read /metrics too.",
)
@click.option(
    "--days", type=click.IntRange(1, 3650), default=365, show_default=True, help="How long it holds."
)
def add(*, name: str, owner: str | None, may: str, days: int) -> None:
    """Make a token and print it. It is shown this once; only its digest is kept."""
    from service.storage.tokens import Tokens

    owner = _named(name, "name") if owner is None else owner
    if owner:
        _named(owner, "owner")
    with opened_database(present_settings()) as database:
        secret = Tokens(database).add(_named(name, "name"), owner=owner, may=may, days=days)
    if secret is None:
        raise click.ClickException(
            f"A token named {name} is valid already. Revoke it, or choose another name."
        )
    click.echo(secret)


@token.command("list", epilog=LIST_EXAMPLE)
def list_tokens() -> None:
    """List all tokens, valid or not. What they are cannot be shown again."""
    from service.storage.tokens import Tokens

    with opened_database(present_settings()) as database:
        rows = [HEAD, *(_row(token) for token in Tokens(database).listed())]
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    for row in rows:
        click.echo("  ".join(text.ljust(width) for text, width in zip(row, widths, strict=True)).rstrip())


@token.command(epilog=REVOKE_EXAMPLE)
@click.argument("name")
def revoke(*, name: str) -> None:
    """Make the token NAME worthless, at once and for good."""
    from service.storage.tokens import Tokens

    with opened_database(present_settings()) as database:
        revoked = Tokens(database).revoke(name)
    if not revoked:
        raise click.ClickException(f"No valid token is named {name!r}. `aerial-assay token list` shows all.")
    click.echo(f"The token {name} is revoked.")


def _named(name: str, what: str) -> str:
    if NAME.fullmatch(name) is None:
        raise click.ClickException(
            f"The {what} {name!r} is not one. Take 1 to 100 letters, digits and any of . _ @ -"
        )
    return name


def _row(token: "Token") -> tuple[str, ...]:
    days = (token.created_at, token.expires_at, token.last_used_at)
    return (token.name, token.owner, token.may, token.state(), *((day or "never")[:10] for day in days))
