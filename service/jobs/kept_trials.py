"""The desk of kept trials: their documents, what was changed, when and why, and what an analysis needs."""

from collections.abc import Mapping
from typing import Any

from service.jobs.kept_batches import standing
from service.jobs.kept_documents import (
    changed_fields,
    check_meter,
    check_reason,
    checked_document,
    merged,
    taken_patch,
)
from service.jobs.kept_lookup import Document, Seen, found, held, in_brief, seen
from service.jobs.kept_material import Material, history_of
from service.settings import Limits
from service.storage import Connection, Database, batch_rows, trial_rows
from service.storage.trial_rows import KeptTrial


class KeptTrials:
    """Keeps trials; every owner finds only what is theirs.

    Raises NotKnown for what is not there or another's, Stale where `version` is not the present one (None
    stands for any), StorageUnavailable and StorageFull.
    """

    def __init__(self, database: Database, limits: Limits):
        self._database = database
        self._limits = limits

    def create(self, owner: str, document: Any) -> Seen:
        """Keep a new trial. Raises BadInput with every fault of the document."""
        checked_document(document, self._limits)
        with self._database.begin() as connection:
            return seen(connection, trial_rows.insert_trial(connection, owner, document))

    def get(self, owner: str, trial_id: str) -> Seen:
        """The trial."""
        with self._database.reading() as connection:
            return seen(connection, found(connection, owner, trial_id))

    def page(self, owner: str, after: tuple[str, str] | None, *, limit: int) -> list[Document]:
        """The owner's trials in brief, the newest first, behind the one of (created_at, id) `after`."""
        with self._database.reading() as connection:
            trials = trial_rows.trials_after(connection, owner, after, limit=limit)
            counts = trial_rows.batch_counts(connection, [trial.id for trial in trials])
        return [in_brief(trial, counts.get(trial.id, 0)) for trial in trials]

    def change(self, owner: str, trial_id: str, patch: object, *, version: int | None = None) -> Seen:
        """Change the trial by a merge patch (RFC 7396), which may hold a `reason`.

        Raises BadInput for faults of the patch and of what would come of it, and where what moves the
        verdict of readings that are there is to change without a reason.
        """
        members, reason = taken_patch(patch, self._limits)
        with self._database.begin() as connection:
            trial = found(connection, owner, trial_id, version=version, lock=True)
            document = merged(trial.document, members)
            if trial.first_plan is None:
                checked_document(document, self._limits)
            else:
                self._change_under_readings(connection, trial, document, reason)
            if document != trial.document:
                trial_rows.update_trial(connection, trial, document=document)
            return seen(connection, found(connection, owner, trial_id))

    def _change_under_readings(
        self, connection: Connection, trial: KeptTrial, document: Mapping[str, Any], reason: str | None
    ) -> None:
        """Check a change of a trial that has readings, and keep what it changes and why."""
        before = checked_document(trial.document, self._limits)
        after = checked_document(document, self._limits)
        there = held(connection, trial.id)
        if there.runs:
            check_meter(before, after)
        old, new = changed_fields(before, after, held=there.elements, channels=there.channels)
        check_reason(new, reason)
        if new:
            trial_rows.insert_change(connection, trial.id, str(reason), before=old, after=new)

    def remove(self, owner: str, trial_id: str, version: int | None) -> None:
        """Remove the trial with all its readings."""
        with self._database.begin() as connection:
            trial_rows.delete_trial(
                connection, found(connection, owner, trial_id, version=version, lock=True)
            )

    def material(self, owner: str, trial_id: str, *, up_to: int | None = None) -> Material:
        """What an analysis needs, all from one moment; `up_to` leaves later batches aside."""
        with self._database.reading() as connection:
            trial = found(connection, owner, trial_id)
            accounts = batch_rows.accounts_of(connection, trial_id)
            if up_to is not None:
                accounts = [account for account in accounts if account.number <= up_to]
            numbers = [account.number for account in standing(accounts)]
            changes = trial_rows.changes_of(connection, trial_id)
            batches = batch_rows.columns_of_batches(connection, trial_id, numbers)
        last = accounts[-1].number if accounts else 0
        history = history_of(trial.first_plan, changes, accounts)
        return Material(trial.document, tuple(batches), history, version=trial.version, last_batch=last)
