"""`aerial-assay replay`: the verdict of an archive reached again, and whether it agrees."""

import json
import re
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from service.client.connection import connect
from service.client.options import FILE, SERVER
from service.client.output import say, working
from service.client.packages import bytes_of
from service.client.trouble import Trouble

if TYPE_CHECKING:
    from flask import Flask

EXAMPLE = """\b
Example:
  aerial-assay replay trial.zip"""
DIFFERS = 1
HEAD = "archive.json"
HEAD_BYTES = 2**20


@click.command(epilog=EXAMPLE, short_help="Reach the verdict of an archived trial again.")
@click.argument("archive", metavar="ARCHIVE", type=FILE)
@click.option("--json", "as_json", is_flag=True, help="Print the comparison and nothing else.")
@SERVER
@click.pass_context
def replay(context: click.Context, /, *, archive: Path, as_json: bool, server: str | None) -> None:
    """Reach the verdict of an archived trial again and say whether it agrees.

    With the same versions on the same machine the same bytes are due; elsewhere the same outcomes and counts,
    and numbers within 1e-12. The status is 1 where it differs.
    """
    create_app: Callable[[], Flask] = context.obj
    body = bytes_of(archive)
    path = f"/v1/trials/{_trial_of(body, archive)}/replay"
    with connect(server, create_app) as service, working("Reaching the verdict again"):
        answer = service.answer("POST", path, content=body, headers={"Content-Type": "application/zip"})
    found = json.loads(answer.content)
    if as_json:
        click.echo(answer.content)
    else:
        say(_lines(found))
    if not found["agrees"]:
        context.exit(DIFFERS)


def _trial_of(body: bytes, archive: Path) -> str:
    """The id of the trial that the archive is of. Raises Trouble where it does not say so."""
    import io
    import zipfile
    import zlib

    broken = (zipfile.BadZipFile, zlib.error, KeyError, TypeError, ValueError, EOFError, RuntimeError)
    try:
        with zipfile.ZipFile(io.BytesIO(body)) as members:
            small = members.getinfo(HEAD).file_size <= HEAD_BYTES
            trial = json.loads(members.read(HEAD))["trial"]["id"] if small else ""
            known = re.fullmatch(r"[0-9a-f]{32}", trial)
    except broken:
        known = None
    if known is None:
        raise Trouble(f"{archive} is not the archive of a trial, or it is damaged. Fetch it again.")
    return known[0]


def _lines(found: Mapping[str, Any]) -> Iterator[str]:
    outcome = found["outcome"]
    if found["agrees"] and found["same_bytes"]:
        yield f"Agrees, to the last byte: {outcome['now']}."
    elif found["agrees"]:
        yield (
            f"Agrees: {outcome['now']}. The same outcomes and counts, numbers within 1e-12 "
            "(made by other versions or on another machine)."
        )
    else:
        yield f"Differs: it was {outcome['then']} and is {outcome['now']}."
    for entry in found["differences"]:
        then, now = (json.dumps(entry[name], ensure_ascii=False)[:120] for name in ("then", "now"))
        yield f"  {entry['pointer']}: {then} then, {now} now"
    if found["more_differences"]:
        yield "  and more"
