"""`aerial-assay trial` and `aerial-assay send`: trials that are kept, and their readings."""

import hashlib
import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from service.client.connection import Service, connect
from service.client.options import FILE, SERVER_OF_KEPT
from service.client.output import say, working
from service.client.packages import JSON, Package, bytes_of, package_files
from service.client.trouble import Trouble, printable

if TYPE_CHECKING:
    from flask import Flask

TRIALS = "/v1/trials"
TRIES = 5


def _example(command: str) -> str:
    return f"\b\nExample:\n  aerial-assay {command}"


@click.group(epilog=_example("trial new trial.json"), short_help="Keep trials that last for weeks.")
def trial() -> None:
    """Keep trials that last for weeks; `aerial-assay send` brings them their readings."""


@trial.command(epilog=_example("trial new trial.json"))
@click.argument("file", metavar="FILE", type=FILE)
@SERVER_OF_KEPT
@click.pass_obj
def new(create_app: "Callable[[], Flask]", file: Path, server: str | None) -> None:
    """Keep the trial whose document (JSON) is in FILE, and print its id."""
    document = Package(bytes_of(file), JSON)
    with connect(server, create_app) as service:
        kept = service.answer("POST", TRIALS, **document.request()).json()
    click.echo(kept["id"])
    click.echo(f"Kept. Its readings come by: aerial-assay send {kept['id']} FILE", err=True)


@trial.command("list", epilog=_example("trial list"))
@SERVER_OF_KEPT
@click.pass_obj
def list_trials(create_app: "Callable[[], Flask]", server: str | None) -> None:
    """List the trials that are kept, the newest first."""
    with connect(server, create_app) as service:
        for kept in _all_trials(service):
            changed = kept["changed_at"][:16].replace("T", " ")
            batches = _count(kept["batches"], "batch", "batches")
            say([f"{kept['id']}  {changed}  {batches}  {kept['title'] or ''}"])


@trial.command(epilog=_example("trial show 3f0c..."))
@click.argument("trial_id", metavar="TRIAL")
@SERVER_OF_KEPT
@click.pass_obj
def show(create_app: "Callable[[], Flask]", trial_id: str, server: str | None) -> None:
    """Print the document of TRIAL and what became of it, as JSON."""
    path = _path(trial_id)
    with connect(server, create_app) as service:
        document = service.answer("GET", path).json()
    click.echo(
        "\n".join(printable(line) for line in json.dumps(document, ensure_ascii=False, indent=2).split("\n"))
    )


@trial.command(epilog=_example("trial remove 3f0c..."))
@click.argument("trial_id", metavar="TRIAL")
@click.option("--yes", is_flag=True, help="Do not ask whether it is meant.")
@SERVER_OF_KEPT
@click.pass_obj
def remove(create_app: "Callable[[], Flask]", /, *, trial_id: str, yes: bool, server: str | None) -> None:
    """Remove TRIAL with all its readings and analyses, for good."""
    path = _path(trial_id)
    with connect(server, create_app) as service:
        seen = service.answer("GET", path)
        title = printable(seen.json().get("title") or trial_id)
        history = seen.json()["kept"]["history"] or {"batches": []}
        batches = _count(len(history["batches"]), "batch", "batches")
        if not yes:
            click.confirm(f"Remove {title} with {batches} of readings for good?", abort=True, err=True)
        service.answer("DELETE", path, headers={"If-Match": seen.headers["ETag"]})
    say([f"Removed: {title}."])


@click.command(epilog=_example("send 3f0c... readings.csv"), short_help="Send readings to a kept trial.")
@click.argument("trial_id", metavar="TRIAL")
@click.argument("file", metavar="FILE", type=FILE)
@click.option("--corrects", metavar="REASON", help="Take the place of readings that are there already.")
@click.option("--nothing-found", metavar="MARKS", help="Marks that mean 'scanned, nothing found': -,n/a.")
@click.option("--not-scanned", metavar="MARKS", help="Marks that mean 'not scanned'.")
@SERVER_OF_KEPT
@click.pass_obj
def send(
    create_app: "Callable[[], Flask]",
    /,
    *,
    trial_id: str,
    file: Path,
    server: str | None,
    **fields: str | None,
) -> None:
    """Send the readings in FILE to TRIAL: all are kept, or none.

    It may be repeated without harm: what was kept already is not kept twice.
    """
    path, package = _path(trial_id), package_files([file], None)
    query = {name: value for name, value in fields.items() if value is not None}
    with connect(server, create_app) as service, working(f"Sending {file}"):
        headers = {"Idempotency-Key": _key(service, path, query, package)}
        request = package.request()
        request["headers"] = {**request["headers"], **headers}
        asked = {"params": query, **request}
        kept = service.answer("POST", f"{path}/readings", package=package, tries=TRIES, **asked).json()
    say(_told(kept))


def _key(service: Service, path: str, query: dict[str, str], package: Package) -> str:
    """The same for the same readings, so that a repeat is known; another after a batch was taken back."""
    kept = service.answer("GET", path, tries=TRIES).json()["kept"]
    batches = (kept["history"] or {"batches": []})["batches"]
    withdrawn = [batch["number"] for batch in batches if batch["kind"] == "withdrawal"]
    said = json.dumps([path, sorted(query.items()), withdrawn])
    return hashlib.sha256(said.encode() + package.body).hexdigest()


def _told(kept: dict[str, Any]) -> Iterator[str]:
    read = kept["read_as"]
    yield (
        f"Kept as batch {kept['batch']}: {_count(kept['rows'], 'reading')} of "
        f"{_count(read['elements'], 'element')} on {_count(read['channels'], 'channel')}."
    )
    if kept.get("replaced"):
        yield f"{kept['replaced']} of them stand in place of earlier ones, which stay in the history."
    if kept.get("new_elements"):
        yield f"New in this trial: {', '.join(kept['new_elements'])}."


def _count(number: int, one: str, many: str | None = None) -> str:
    return f"{number} {one if number == 1 else many or one + 's'}"


def _all_trials(service: Service) -> Iterator[dict[str, Any]]:
    path: str | None = TRIALS
    while path:
        page = service.answer("GET", path).json()
        yield from page["trials"]
        path = page["next"]


def _path(trial_id: str) -> str:
    """The path of a trial. Raises Trouble for what is no id, before anything is asked."""
    if not trial_id.isascii() or not trial_id.isalnum():
        raise Trouble(f"{trial_id!r} is no id of a trial: `aerial-assay trial list` prints them.")
    return f"{TRIALS}/{trial_id}"
