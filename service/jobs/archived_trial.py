"""A trial as it is archived: all that its verdict was reached from, and the verdict, as members of a zip."""

import json
import platform
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from service.errors import BadInput, ServiceError
from service.intake.strict_json import strict_json
from service.jobs.archive_zip import check_size, digest, refused
from service.jobs.kept_batches import standing
from service.jobs.kept_material import Material, history_of
from service.jobs.versions import versions_here
from service.storage.batch_rows import Account, KeptColumns
from service.storage.trial_rows import Change, KeptTrial

FORMAT = "archive/1"
CPU = Path("/proc/cpuinfo")
Document = dict[str, Any]


@dataclass(frozen=True)
class ArchivedBatch:
    """A batch: its account, the body as it came, and the columns that it was understood as."""

    account: Account
    columns: KeptColumns
    body: bytes

    def stem(self) -> str:
        """Where it lies in the archive, without an ending."""
        return f"batches/{self.account.number:04d}"


@dataclass(frozen=True)
class ArchivedTrial:
    """A trial at one version, with the analysis document of it, exactly as it is kept.

    about: format, versions and machine; id, version and times of the trial.
    """

    about: Mapping[str, Any]
    document: Mapping[str, Any]
    first_plan: Mapping[str, Any] | None
    changes: tuple[Change, ...]
    batches: tuple[ArchivedBatch, ...]
    analysis: bytes

    def material(self) -> Material:
        """What the analysis was made from."""
        accounts = [batch.account for batch in self.batches]
        stand = {account.number for account in standing(accounts)}
        columns = tuple(batch.columns for batch in self.batches if batch.account.number in stand)
        history = history_of(self.first_plan, self.changes, accounts)
        last = accounts[-1].number if accounts else 0
        return Material(
            self.document, columns, history, version=self.about["trial"]["version"], last_batch=last
        )

    def members(self) -> dict[str, bytes]:
        """The members of its archive but for the merged readings, which are there to be looked at."""
        history = {"first_plan": self.first_plan, "changes": [asdict(change) for change in self.changes]}
        members = {
            "archive.json": _text(self.about),
            "trial.json": _text(self.document),
            "history.json": _text(history),
            "batches.json": _text([_entry(batch) for batch in self.batches]),
        }
        for batch in self.batches:
            members[f"{batch.stem()}.body"] = batch.body
            members[f"{batch.stem()}.columns"] = batch.columns.columns
        return members | {"analysis.json": self.analysis}

    def check_size(self, most_bytes: int) -> None:
        """Raise TooLarge where its archive would be refused."""
        check_size(sum(len(content) for content in self.members().values()), most_bytes)


def about(trial: KeptTrial, analysis: Mapping[str, Any]) -> Document:
    """What stands at the head of an archive made here."""
    return {
        "format": FORMAT,
        "versions": analysis["method"]["versions"],
        "seed": analysis["method"]["seed"],
        "machine": machine_here(),
        "trial": {
            "id": trial.id,
            "version": trial.version,
            "created_at": trial.created_at,
            "changed_at": trial.changed_at,
        },
    }


def machine_here() -> Document:
    """What of this machine may move the last digit of a number: its system, its processor."""
    try:
        models = {
            line.split(":", 1)[1].strip() for line in CPU.read_text().splitlines() if "model name" in line
        }
    except OSError:
        models = {platform.processor()}
    return {"system": platform.system(), "machine": platform.machine(), "processor": sorted(models)}


def same_here(archived: ArchivedTrial) -> bool:
    """Whether the same bytes are to be expected here."""
    here = {"versions": dict(versions_here()), "machine": machine_here()}
    return all(archived.about.get(name) == value for name, value in here.items())


def archived_trial(members: Mapping[str, bytes]) -> ArchivedTrial:
    """The trial of an archive's members, whose digests were checked.

    Raises BadInput for what this program would not have archived.
    """
    try:
        archived = _read(members)
        archived.material()
        return archived
    except (KeyError, TypeError, ValueError, AttributeError, IndexError) as error:
        raise refused("The archive is not one that this program made.") from error
    except BadInput:
        raise
    except ServiceError as error:
        raise refused(error.detail) from error


def _read(members: Mapping[str, bytes]) -> ArchivedTrial:
    head = _json(members, "archive.json")
    if head["format"] != FORMAT:
        raise refused(f"The archive is in the format {str(head['format'])[:40]!r}; {FORMAT} is read here.")
    _ = int(head["trial"]["version"]), str(head["trial"]["id"])
    history = _json(members, "history.json")
    entries = _json(members, "batches.json")
    if not isinstance(entries, list):
        raise TypeError("batches.json")
    return ArchivedTrial(
        about=head,
        document=_json(members, "trial.json"),
        first_plan=history["first_plan"],
        changes=tuple(Change(**change) for change in history["changes"]),
        batches=tuple(_batch(entry, members) for entry in entries),
        analysis=members["analysis.json"],
    )


def _entry(batch: ArchivedBatch) -> Document:
    understood = {"names": batch.columns.names, "read_as": batch.columns.read_as}
    return asdict(batch.account) | understood


def _batch(entry: Document, members: Mapping[str, bytes]) -> ArchivedBatch:
    names, read_as = entry.pop("names"), entry.pop("read_as")
    account = Account(**entry)
    stem = f"batches/{int(account.number):04d}"
    columns = members[f"{stem}.columns"]
    kept = KeptColumns(account.number, account.kind, columns, digest(columns), names, read_as)
    return ArchivedBatch(account, kept, members[f"{stem}.body"])


def _json(members: Mapping[str, bytes], name: str) -> Any:
    return strict_json(members[name], name=name)


def _text(document: object) -> bytes:
    return (json.dumps(document, ensure_ascii=False, allow_nan=False, indent=1) + "\n").encode()
