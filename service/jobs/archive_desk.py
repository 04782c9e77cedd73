"""The desk of archives: a kept trial put into a zip, and verdicts reached again, from one or from storage."""

from functools import partial
from pathlib import Path
from typing import Any

from service.errors import Conflict
from service.jobs.archive_zip import zipped
from service.jobs.archived_trial import ArchivedBatch, ArchivedTrial, about
from service.jobs.kept_analyses import Asked, KeptAnalyses
from service.jobs.kept_export import export
from service.jobs.kept_lookup import found
from service.jobs.replay import ArchiveReplay, TrialReplay
from service.jobs.runners import Runner
from service.settings import Limits
from service.storage import Connection, Database, batch_rows, trial_rows
from service.storage.batch_rows import KeptColumns
from service.storage.trial_rows import json_of

Document = dict[str, Any]


class ArchiveDesk:
    """Archives trials and replays them; every owner finds only what is theirs.

    references: the folder that keeps the bell-shaped references, None for none.
    """

    def __init__(
        self,
        database: Database,
        analyses: KeptAnalyses,
        runner: Runner,
        *,
        limits: Limits,
        references: Path | None,
    ):
        self._database = database
        self._analyses = analyses
        self._runner = runner
        self._limits = limits
        self._references = references

    def archive(self, owner: str, trial_id: str) -> bytes:
        """The trial as it is, with its verdict, which is reached now if it is not there yet.

        Raises NotKnown, Conflict where the trial is changed meanwhile, TooLarge for one that is too large to
        be read again, and whatever analysing it raises.
        """
        asked = self._analyses.newest(owner, trial_id) or self._analyses.analyse_now(owner, trial_id)
        work = partial(archive_of, self._archived(owner, trial_id, asked), self._limits)
        return self._runner.run(work, seconds=self._limits.analysis_seconds)

    def replay_kept(self, owner: str, trial_id: str) -> Document:
        """How the verdict on the trial as it is, reached again now, stands to the one that is kept.

        Raises NotKnown, and Conflict where none is kept.
        """
        asked = self._analyses.newest(owner, trial_id)
        if asked is None:
            raise Conflict(
                "The trial as it is has not been analysed, so there is no verdict to hold another against. "
                f"POST /v1/trials/{trial_id}/analyses first."
            )
        replay = TrialReplay(self._archived(owner, trial_id, asked), self._limits, self._references)
        return self._runner.run(partial(replay, _quiet), seconds=self._limits.analysis_seconds)

    def replay_archive(self, trial_id: str, body: bytes) -> Document:
        """How the verdict on an archived trial, reached again now, stands to the one in the archive.

        Raises BadInput for an archive that is not as it was made or is of another trial, TooLarge.
        """
        replay = ArchiveReplay(body, trial_id, self._limits, self._references)
        return self._runner.run(partial(replay, _quiet), seconds=self._limits.analysis_seconds)

    def _archived(self, owner: str, trial_id: str, asked: Asked) -> ArchivedTrial:
        """The trial with an analysis of it, all from one moment."""
        analysis = asked.document or {}
        with self._database.reading() as connection:
            trial = found(connection, owner, trial_id)
            if trial.version != asked.analysis.trial_version:
                raise Conflict(
                    "The trial is being changed just now. Ask again.", headers={"Retry-After": "1"}
                )
            return ArchivedTrial(
                about=about(trial, analysis),
                document=trial.document,
                first_plan=trial.first_plan,
                changes=tuple(trial_rows.changes_of(connection, trial_id)),
                batches=_batches(connection, trial_id),
                analysis=json_of(analysis).encode(),
            )


def archive_of(archived: ArchivedTrial, limits: Limits) -> bytes:
    """The archive of a trial; runs in the calling process. Raises TooLarge past the limit."""
    readings = export(archived.material(), "csv", start=0, limit=None).content
    archived.check_size(limits.archive_bytes - len(readings))
    return zipped({**archived.members(), "readings.csv": readings})


def _batches(connection: Connection, trial_id: str) -> tuple[ArchivedBatch, ...]:
    accounts = batch_rows.accounts_of(connection, trial_id)
    columns = batch_rows.columns_of_batches(connection, trial_id, [account.number for account in accounts])
    return tuple(
        ArchivedBatch(account, kept, _body(connection, trial_id, kept))
        for account, kept in zip(accounts, columns, strict=True)
    )


def _body(connection: Connection, trial_id: str, kept: KeptColumns) -> bytes:
    return batch_rows.body_of(connection, trial_id, kept.number) or b""


def _quiet(_stage: str) -> None:
    """Tell nobody."""
