"""One analysis of a kept trial, from the moment that somebody holds it to its end.

Whoever works on it says so again and again (the heartbeat) and looks whether it is still theirs: it may have
been cancelled, or taken over because they seemed dead. What came of it is kept only while it is theirs.
"""

import threading
import time
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from service.errors import ServiceError, StorageFull, StorageUnavailable, TooMany
from service.jobs.failures import Cancelled, ComputeUnavailableError
from service.jobs.kept_material import Material
from service.jobs.kept_trials import KeptTrials
from service.jobs.notices import Announcer, Unannounced
from service.jobs.observing import Observer
from service.jobs.run_errors import kept_problem
from service.jobs.runners import Runner
from service.jobs.running import Progress, Running
from service.settings import Limits
from service.storage import Database, analysis_rows
from service.storage.analysis_rows import KeptAnalysis

LOOK_SECONDS = 0.5
HEARTBEAT_SECONDS = 3.0
Document = dict[str, Any]


@dataclass(frozen=True)
class AnalysisWork:
    """The work itself, to be done in a worker: from the material to the document with its sentences."""

    material: Material
    limits: Limits
    references: Path | None

    def __call__(self, progress: Progress) -> Document:
        """The document; its stages are told."""
        from reports.wording import complete
        from service.analysis import analyse
        from service.jobs.reference_store import reference_store

        trial, readings = self.material.trial_and_readings(self.limits)
        store = reference_store(self.references)
        history = self.material.history
        return complete(analyse(trial, readings, store=store, progress=progress, history=history))


class Analyst:
    """Sees analyses through; used by any number of threads.

    references: the folder that keeps the bell-shaped references, None for none. observer: who counts.
    announcer: who tells of verdicts.
    """

    def __init__(
        self,
        trials: KeptTrials,
        database: Database,
        runner: Runner,
        *,
        limits: Limits,
        references: Path | None,
        observer: Observer,
        announcer: Announcer | None = None,
    ):
        self._trials = trials
        self._database = database
        self._runner = runner
        self._limits = limits
        self._references = references
        self._observer = observer
        self._announcer = announcer or Unannounced()
        self._leaving = threading.Event()

    def leave(self) -> None:
        """Put back what is being worked on, so that others, or this service when it is back, take it up."""
        self._leaving.set()

    def see_through(self, held: KeptAnalysis, material: Material | None = None) -> Document:
        """Do an analysis that its `worker` holds, and keep what came of it.

        The material is that of the trial now, unless it is given. Raises what came in the way; Cancelled
        where it was cancelled or taken over. Where nothing can compute it now, it waits again.
        """
        worker = str(held.worker)
        try:
            document = self._document(held, worker, material)
        except (StorageUnavailable, StorageFull):
            raise  # it stays ours until the heartbeat is old; then whoever reaches the database takes it
        except (Cancelled, TooMany, ComputeUnavailableError):
            with self._database.begin() as connection:
                analysis_rows.put_back(connection, held.id, worker)
            raise
        except ServiceError as error:
            with self._database.begin() as connection:
                analysis_rows.fail(connection, held.id, worker, problem=kept_problem(error))
            raise
        with self._database.begin() as connection:
            if not analysis_rows.finish(connection, held.id, worker, document=document):
                raise Cancelled
            self._announcer.note(connection, held, document)
        self._announcer.look()
        self._observer.analysed(document["verdict"]["outcome"])
        return document

    def _document(self, held: KeptAnalysis, worker: str, material: Material | None) -> Document:
        if material is None:
            material = self._trials.material(held.owner, held.trial_id)
            of = {"trial_version": material.version, "batches": material.last_batch}
            with self._database.begin() as connection:
                analysis_rows.keep_alive(connection, held.id, worker, **of)
        work = AnalysisWork(material, self._limits, self._references)
        running = self._runner.submit(work, seconds=self._limits.analysis_seconds)
        self._watch(running, held.id, worker)
        return running.result()

    def _watch(self, running: Running[Document], analysis_id: str, worker: str) -> None:
        """Keep the analysis alive until its work has ended; stop the work where it is not ours any more."""
        told: Mapping[str, str] = {}
        beaten_at = time.monotonic()
        while not running.wait(LOOK_SECONDS):
            news = {"stage": running.stage} if running.stage else {}
            due = news != told or time.monotonic() - beaten_at > HEARTBEAT_SECONDS
            if self._leaving.is_set() or not self._is_ours(analysis_id, worker, news if due else None):
                running.cancel()
            if due:
                told, beaten_at = news, time.monotonic()

    def _is_ours(self, analysis_id: str, worker: str, news: Mapping[str, str] | None) -> bool:
        """Whether the worker still holds the analysis; with news (or none: {}) it says that it is at it."""
        with suppress(StorageUnavailable, StorageFull):  # as long as it does not answer, nobody takes it over
            if news is None:
                with self._database.reading() as connection:
                    return analysis_rows.still_held(connection, analysis_id, worker)
            with self._database.begin() as connection:
                return analysis_rows.keep_alive(connection, analysis_id, worker, **news)
        return True
