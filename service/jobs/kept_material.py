"""What an analysis of a kept trial needs, all of it from one moment."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from service.settings import Limits
from service.storage.batch_rows import CORRECTION, WITHDRAWAL, Account, KeptColumns
from service.storage.packing import unpacked
from service.storage.trial_rows import Change
from service.trial.history import BatchAccount, History, Plan, PlanChange
from service.trial.reading_columns import ReadingColumns, frame_of
from service.trial.readings_table import Readings
from service.trial.trial import Trial


@dataclass(frozen=True)
class Material:
    """A kept trial at one version: its document, its batches (packed, so that it travels well), its history.

    `last_batch` is the number of the last batch, 0 where there is none.
    """

    trial_document: Mapping[str, Any]
    batches: tuple[KeptColumns, ...]
    history: History | None
    version: int
    last_batch: int

    @property
    def readings(self) -> Readings:
        """All readings that stand, put together now."""
        from service.trial.kept_readings import read_as_of

        columns = self.columns()
        accounts = [batch.read_as for batch in self.batches]
        return Readings(frame_of(columns), read_as_of(accounts, columns))

    def columns(self) -> ReadingColumns:
        """All readings that stand, as columns."""
        from service.trial.kept_readings import put_together

        parts = [columns_in(batch) for batch in self.batches]
        return put_together(parts, [batch.kind == CORRECTION for batch in self.batches])

    def trial_and_readings(self, limits: Limits) -> tuple[Trial, Readings]:
        """Both, every name of the readings in the trial.

        Raises BadInput where the trial refers to what is not in the readings.
        """
        from service.trial.names import with_names_of
        from service.trial.trial_document import trial_from_document

        readings = self.readings
        return with_names_of(trial_from_document(self.trial_document, limits=limits), readings), readings


def columns_in(batch: KeptColumns) -> ReadingColumns:
    """The readings of a batch. Raises DamagedColumns."""
    return ReadingColumns(unpacked(batch.columns, batch.columns_sha256), batch.names)


def history_of(
    first_plan: Mapping[str, Any] | None, changes: Iterable[Change], accounts: Sequence[Account]
) -> History | None:
    """The history of a trial, None before its first readings."""
    if first_plan is None:
        return None
    withdrawn = {account.withdraws: account.number for account in accounts if account.kind == WITHDRAWAL}
    return History(
        first_plan=Plan(**first_plan),
        changes=tuple(PlanChange(**vars(change)) for change in changes),
        batches=tuple(
            BatchAccount(
                number=account.number,
                at=account.received_at,
                kind=account.kind,
                rows=account.rows,
                reason=account.reason,
                withdraws=account.withdraws,
                withdrawn_by=withdrawn.get(account.number),
            )
            for account in accounts
        ),
    )
