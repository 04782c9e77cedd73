"""The desk of the readings of kept trials: a batch is kept whole or not at all, and once under its key."""

from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import dataclass
from functools import partial
from typing import Any

from service.jobs.kept_batches import (
    NewBatch,
    as_kept,
    batches_in_common,
    busy,
    check_against,
    read_content,
    refuse_repeats,
    withdrawable,
)
from service.jobs.kept_documents import checked_document, plan_document
from service.jobs.kept_export import Export, export
from service.jobs.kept_keys import Answer, Keyed, Releases, claim_or_answer, finish
from service.jobs.kept_lookup import found, held, reads_alike
from service.jobs.kept_material import Material, columns_in
from service.jobs.runners import Runner
from service.settings import Limits
from service.storage import Connection, Database, batch_rows, trial_rows
from service.storage.batch_rows import CORRECTION, READINGS, WITHDRAWAL, Content, Kind
from service.storage.key_rows import Claim
from service.storage.trial_rows import KeptTrial

MOST_READS = 5
"""How often a batch is read again because the trial's document was changed meanwhile."""


@dataclass(frozen=True)
class Place:
    """Whose trial it is, which one, and the key of the request that asks, None for none."""

    owner: str
    trial_id: str
    keyed: Keyed | None = None


class KeptReadings:
    """Takes batches for kept trials, and takes them back.

    Raises NotKnown for a trial that is not there or another's, StorageUnavailable and StorageFull.
    """

    def __init__(self, database: Database, runner: Runner, limits: Limits):
        self._database = database
        self._runner = runner
        self._limits = limits
        self._releases = Releases(database)

    def add(self, place: Place, batch: NewBatch) -> Answer:
        """Keep a batch, all of it or nothing; under a key a repeat gets the first answer again.

        Raises whatever reading refuses; BadInput where cells are held already and the batch does not correct
        them, where it does not make one trial with what is there, and where the key was used for another
        request; Conflict while the first request of the key is under way.
        """
        return self._once(place, partial(self._read_and_keep, place, batch))

    def withdraw(self, place: Place, number: int, reason: str) -> Answer:
        """Take a batch back; it stays in the history. Raises BadInput where no such batch stands."""
        return self._once(place, partial(self._take_back, place, Kind(WITHDRAWAL, reason, number)))

    def page(self, material: Material, form: str, *, start: int, limit: int | None) -> Export:
        """The readings of the material in a form, from `start` on."""
        work = partial(export, material, form, start=start, limit=limit)
        return self._runner.run(work, seconds=self._limits.analysis_seconds)

    def _once(self, place: Place, work: Callable[[Claim | None], Answer]) -> Answer:
        """Do the work under its key, or give the answer that it got before."""
        if place.keyed is None:
            return work(None)
        with ExitStack() as undo:
            with self._releases.writing() as connection:
                found(connection, place.owner, place.trial_id)
                claim = claim_or_answer(connection, place.owner, place.keyed, limits=self._limits)
                if isinstance(claim, Answer):
                    return claim
                undo.callback(self._releases.release, claim)  # already here: a commit may fail after all
            answer = work(claim)
            undo.pop_all()
        return answer

    def _read_and_keep(self, place: Place, batch: NewBatch, claim: Claim | None) -> Answer:
        kind = Kind(READINGS if batch.corrects is None else CORRECTION, batch.corrects)
        with self._database.reading() as connection:
            document = found(connection, place.owner, place.trial_id).document
        for _ in range(MOST_READS):
            work = partial(read_content, batch, document, self._limits)
            content = self._runner.run(work, seconds=self._limits.analysis_seconds)
            with self._database.begin() as connection:
                trial = found(connection, place.owner, place.trial_id, lock=True)
                if reads_alike(trial.document, document):
                    more = self._held_against(connection, trial, content, corrects=kind.name == CORRECTION)
                    return self._keep(connection, trial, content, kind=kind, claim=claim, more=more)
                document = trial.document
        raise busy()

    def _held_against(
        self, connection: Connection, trial: KeptTrial, content: Content, *, corrects: bool
    ) -> dict[str, Any]:
        """What the new batch adds to what is there and how many readings it stands in place of.

        Raises BadInput where it does not go with what is there.
        """
        there = held(connection, trial.id)
        check_against(there, content, self._limits)
        known = {*there.elements, *(element["id"] for element in trial.document.get("elements") or [])}
        more = {"new_elements": [name for name in content.names["element"] if name not in known]}
        numbers = batches_in_common(there, content.holds)
        replaced = _replaced(connection, trial.id, content, numbers=numbers, corrects=corrects)
        return more | ({"replaced": replaced} if corrects else {})

    def _take_back(self, place: Place, kind: Kind, claim: Claim | None) -> Answer:
        content = Content(media_type="", holds={"rounds_from": None, "runs": [], "channels": []})
        with self._database.begin() as connection:
            trial = found(connection, place.owner, place.trial_id, lock=True)
            withdrawable(batch_rows.accounts_of(connection, trial.id), int(kind.withdraws or 0))
            more = {"withdrawn": kind.withdraws}
            return self._keep(connection, trial, content, kind=kind, claim=claim, more=more)

    def _keep(
        self,
        connection: Connection,
        trial: KeptTrial,
        content: Content,
        *,
        kind: Kind,
        claim: Claim | None,
        more: dict[str, Any],
    ) -> Answer:
        """Keep the batch, raise the version and keep the answer, all in the one transaction."""
        number = batch_rows.insert_batch(connection, trial.id, content, kind=kind)
        first_plan = None
        if trial.first_plan is None:
            first_plan = plan_document(checked_document(trial.document, self._limits))
        version = trial_rows.update_trial(connection, trial, first_plan=first_plan)
        told = {"batch": number, "rows": content.rows, "read_as": dict(content.read_as), "version": version}
        answer = Answer(201, told | more)
        finish(connection, claim, answer)
        return answer


def _replaced(
    connection: Connection, trial_id: str, content: Content, *, numbers: list[int], corrects: bool
) -> int:
    """How many readings of the new batch have earlier ones.

    Raises BadInput where there are some and the batch does not correct.
    """
    from service.trial.kept_readings import held_already, replaced_by

    stored = [columns_in(batch) for batch in batch_rows.columns_of_batches(connection, trial_id, numbers)]
    if not stored:
        return 0
    new = columns_in(as_kept(content))
    if not corrects:
        refuse_repeats(content, numbers, held_already(stored, new))
        return 0
    return len({int(position) for positions in replaced_by(stored, new) for position in positions})
