"""The desk of baselines: an element of a kept trial under a name, to hold new designs against."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from service.errors import BadInput, Fault, NotKnown, Stale
from service.jobs.kept_lookup import found, held
from service.jobs.kept_trials import KeptTrials
from service.settings import Limits
from service.storage import Connection, Database, baseline_rows
from service.storage.baseline_rows import LAST_READING, NAMING, BaselineRow
from service.storage.clock import now_text
from service.storage.trial_rows import new_id
from service.trial.document_fields import Fields
from service.trial.places import brief
from service.trial.reading_columns import NO_TIME, ReadingColumns

Document = dict[str, Any]
FIELDS = ("name", "trial", "element", "note")
VERSION = 1
"""Of every baseline: one is named, and removed, and never changed in between."""


@dataclass(frozen=True)
class Baseline:
    """What a check needs of a baseline: trial and element, and what its document tells of it."""

    trial: str
    element: str
    told: Document


class Baselines:
    """Keeps baselines by name; every owner finds only what is theirs.

    Raises NotKnown for what is not there or another's, Stale where `version` is not the one there is (None
    stands for any), StorageUnavailable and StorageFull.
    """

    def __init__(self, database: Database, trials: KeptTrials, limits: Limits):
        self._database = database
        self._trials = trials
        self._limits = limits

    def create(self, owner: str, document: object) -> Document:
        """Keep an element of a kept trial under a name.

        Raises BadInput for every fault of the document, for an element that is not in the trial, and for a
        name that is taken.
        """
        name, trial, element, note = _taken(document, self._limits)
        material = self._trials.material(owner, trial)
        last = _last_reading(material.columns(), element) if material.batches else None
        now = now_text()
        row = BaselineRow(
            id=new_id(),
            owner=owner,
            name=name,
            trial_id=trial,
            element=element,
            date=last or now,
            date_from=LAST_READING if last else NAMING,
            note=note,
            created_at=now,
        )
        with self._database.begin() as connection:
            _check_element(connection, owner, trial, element)
            if not baseline_rows.insert_baseline(connection, row):
                detail = (
                    "A baseline of this name is kept already. Take another name, or remove that one first."
                )
                raise BadInput([Fault(detail, pointer="#/name", given=brief(name))])
        return _told(row)

    def get(self, owner: str, baseline_id: str) -> Document:
        """The baseline of that id."""
        with self._database.reading() as connection:
            return _told(_found(connection, owner, baseline_id))

    def page(self, owner: str, after: tuple[str, str] | None, *, limit: int) -> list[Document]:
        """The owner's baselines, the newest first, behind the one of (created_at, id) `after`."""
        with self._database.reading() as connection:
            return [
                _told(row) for row in baseline_rows.baselines_after(connection, owner, after, limit=limit)
            ]

    def remove(self, owner: str, baseline_id: str, version: int | None) -> None:
        """Remove the baseline; its trial stays."""
        with self._database.begin() as connection:
            row = _found(connection, owner, baseline_id)
            if version not in {None, VERSION}:
                raise Stale(
                    f"A baseline is only ever at version {VERSION}. Read it again, then remove it.",
                    headers={"ETag": f'"{VERSION}"'},
                )
            baseline_rows.delete_baseline(connection, row)

    def named(self, owner: str, name: str) -> Baseline:
        """The baseline of that name. Raises NotKnown too where its trial has been removed."""
        with self._database.reading() as connection:
            row = baseline_rows.find_baseline(connection, owner, name=name)
        if row is None:
            raise NotKnown(
                f"There is no baseline {name[:40]!r}. GET /v1/baselines lists those that are kept; POST "
                "/v1/baselines keeps one."
            )
        if not row.trial_kept:
            raise NotKnown(
                f"The trial {row.trial_id} behind the baseline {name[:40]!r} has been removed, and its "
                f"readings with it. Remove the baseline ({row.id}), and keep one of that name from "
                "another trial."
            )
        return Baseline(row.trial_id, row.element, {"name": name, "date": row.date, "note": row.note})


def _taken(document: object, limits: Limits) -> tuple[str, str, str, str | None]:
    if not isinstance(document, Mapping):
        detail = 'Send an object: {"name": "...", "trial": id, "element": id}.'
        raise BadInput([Fault(detail, pointer="#", given=brief(document))])
    faults: list[Fault] = []
    fields = Fields(document, (), faults=faults, longest=limits.text_characters)
    fields.only(FIELDS)
    name, trial, element = (fields.name(field, required=True) for field in FIELDS[:3])
    note = fields.text("note")
    if faults or name is None or trial is None or element is None:
        raise BadInput(faults)
    return name, trial, element, note


def _check_element(connection: Connection, owner: str, trial_id: str, element: str) -> None:
    trial = found(connection, owner, trial_id, lock=True)
    stated = [entry["id"] for entry in trial.document.get("elements") or []]
    there = list(dict.fromkeys([*stated, *held(connection, trial_id).elements]))
    if element not in there:
        told = f"there are {', '.join(there[:20])}" if there else "it has none yet; send its readings first"
        detail = f"No element of this id is in the trial; {told}."
        raise BadInput([Fault(detail, pointer="#/element", given=brief(element))])


def _last_reading(columns: ReadingColumns, element: str) -> str | None:
    """When the element was last read, None where its readings carry no times."""
    names = list(columns.names["element"])
    if element not in names:
        return None
    times = columns.arrays["at"][columns.arrays["element"] == names.index(element)]
    known = times[times != NO_TIME].astype(np.int64)
    if not len(known):
        return None
    return f"{np.datetime_as_string(known.max().view('datetime64[ns]'), unit='us')}Z"


def _found(connection: Connection, owner: str, baseline_id: str) -> BaselineRow:
    row = baseline_rows.find_baseline(connection, owner, baseline_id=baseline_id)
    if row is None:
        raise NotKnown(
            f"There is no baseline {baseline_id[:40]!r}. GET /v1/baselines lists those that are kept."
        )
    return row


def _told(row: BaselineRow) -> Document:
    return {
        "id": row.id,
        "name": row.name,
        "trial": row.trial_id,
        "element": row.element,
        "date": row.date,
        "date_from": row.date_from,
        "note": row.note,
        "created_at": row.created_at,
        "trial_kept": row.trial_kept,
    }
