"""The desk of kept analyses: asked for now or for later, looked at, cancelled, and reported on."""

from dataclasses import dataclass
from functools import partial
from typing import Any

from service.errors import Conflict, NotKnown, TooMany
from service.jobs.analysis_line import AnalysisLine
from service.jobs.analyst import Analyst
from service.jobs.failures import ComputeUnavailableError
from service.jobs.in_locale import in_locale
from service.jobs.kept_lookup import found
from service.jobs.kept_trials import KeptTrials
from service.jobs.rendering import rendered
from service.jobs.runners import Runner
from service.jobs.versions import program_version
from service.settings import Limits
from service.storage import Connection, Database, analysis_rows
from service.storage.analysis_rows import DONE, OPEN, KeptAnalysis
from service.storage.holders import Holder

Document = dict[str, Any]


@dataclass(frozen=True)
class Asked:
    """An analysis that was asked for: `new` if it was begun for this; its document if it is done."""

    analysis: KeptAnalysis
    document: Document | None
    new: bool


class KeptAnalyses:
    """Keeps analyses of trials; every owner finds only what is theirs.

    Raises NotKnown for what is not there or another's, StorageUnavailable and StorageFull.
    """

    def __init__(
        self,
        trials: KeptTrials,
        database: Database,
        runner: Runner,
        *,
        analyst: Analyst,
        line: AnalysisLine,
        limits: Limits,
    ):
        self._trials = trials
        self._database = database
        self._runner = runner
        self._limits = limits
        self._analyst = analyst
        self._line = line

    def analyse_now(self, owner: str, trial_id: str) -> Asked:
        """The analysis of the trial as it is: the one there is, else a new one, done now.

        Raises BadInput for what cannot be analysed, TooMany, TooLarge and JobError.
        """
        material = self._trials.material(owner, trial_id)
        with self._database.begin() as connection:
            there = _done(connection, trial_id, material.version)
            if there is not None:
                return there
            found(connection, owner, trial_id, lock=True)
            analysis = analysis_rows.insert_analysis(
                connection,
                owner,
                trial_id,
                version=material.version,
                batches=material.last_batch,
                worker=str(Holder()),
            )
        try:
            document = self._analyst.see_through(analysis, material)
        except (TooMany, ComputeUnavailableError):
            with self._database.begin() as connection:
                analysis_rows.drop(connection, analysis.id)
            raise
        return Asked(self.brief(owner, analysis.id), document, new=True)

    def ask(self, owner: str, trial_id: str) -> Asked:
        """The analysis of the trial as it is, done or on its way, else a new one that waits."""
        with self._database.begin() as connection:
            trial = found(connection, owner, trial_id, lock=True)
            there = _done(connection, trial_id, trial.version)
            if there is not None:
                return there
            on_its_way = analysis_rows.newest_analysis(connection, trial_id, trial.version, states=OPEN)
            if on_its_way is not None:
                return Asked(on_its_way, None, new=False)
            waiting = analysis_rows.insert_analysis(
                connection, owner, trial_id, version=trial.version, batches=0, worker=None
            )
        self._line.look()
        return Asked(waiting, None, new=True)

    def newest(self, owner: str, trial_id: str) -> Asked | None:
        """The newest analysis of the trial as it is that is done, whatever version of the program made it."""
        with self._database.reading() as connection:
            trial = found(connection, owner, trial_id)
            done = analysis_rows.newest_analysis(connection, trial_id, trial.version, states=(DONE,))
            document = None if done is None else analysis_rows.document_of(connection, done.id)
        return None if done is None else Asked(done, document, new=False)

    def get(self, owner: str, analysis_id: str) -> Asked:
        """The analysis, with its document if it is done."""
        with self._database.reading() as connection:
            analysis = _found(connection, owner, analysis_id)
            document = analysis_rows.document_of(connection, analysis.id)
        if analysis.state in OPEN:
            self._line.look()  # a process that nobody asked for an analysis so far may find one left over
        return Asked(analysis, document, new=False)

    def brief(self, owner: str, analysis_id: str) -> KeptAnalysis:
        """The analysis without its document."""
        with self._database.reading() as connection:
            return _found(connection, owner, analysis_id)

    def page(
        self, owner: str, trial_id: str, after: tuple[str, str] | None, *, limit: int
    ) -> list[KeptAnalysis]:
        """The trial's analyses, the newest first, behind the one of (created_at, id) `after`."""
        with self._database.reading() as connection:
            found(connection, owner, trial_id)
            return analysis_rows.analyses_after(connection, trial_id, after, limit=limit)

    def cancel(self, owner: str, analysis_id: str) -> KeptAnalysis:
        """Cancel an analysis that waits or runs. Raises Conflict where it has come to its end."""
        with self._database.begin() as connection:
            analysis = _found(connection, owner, analysis_id)
            if not analysis_rows.cancel(connection, analysis_id):
                raise Conflict(
                    f"This analysis is {analysis.state} since {analysis.finished_at}; "
                    "only one that is waiting or running can be cancelled."
                )
            return _found(connection, owner, analysis_id)

    def document(self, owner: str, analysis_id: str) -> Document:
        """The document of an analysis that is done. Raises Conflict for one that is not."""
        return self._done(owner, analysis_id)[1]

    def report(
        self,
        owner: str,
        analysis_id: str,
        *,
        form: str,
        paper: str | None,
        shape: str = "wide",
        locale: str = "en-GB",
    ) -> bytes:
        """The report on an analysis that is done, dated by when it was done; `paper` None for the locale's.

        Raises Conflict for one that is not done, RendererMissingError, TooMany, TooLarge and JobError.
        """
        analysis, document = self._done(owner, analysis_id)
        whole = issued(document, str(analysis.finished_at))
        work = partial(rendered, whole, form, paper=paper, shape=shape)
        return self._runner.run(partial(in_locale, locale, work), seconds=self._limits.rendering_seconds)

    def _done(self, owner: str, analysis_id: str) -> tuple[KeptAnalysis, Document]:
        asked = self.get(owner, analysis_id)
        if asked.document is None:
            raise not_done(asked.analysis)
        return asked.analysis, asked.document


def issued(document: Document, at: str) -> Document:
    """The document as it is reported: with the date of its issue, which the analysis itself does not know."""
    return document | {"provenance": document["provenance"] | {"issued_at": at}}


def not_done(analysis: KeptAnalysis) -> Conflict:
    """What is said where the document of an analysis is wanted that has none."""
    soon = {"Retry-After": "1"} if analysis.state in OPEN else {}
    return Conflict(
        f"This analysis is {analysis.state}; only one that is done has a report. "
        f"GET /v1/analyses/{analysis.id} tells how it stands.",
        headers=soon,
    )


def _found(connection: Connection, owner: str, analysis_id: str) -> KeptAnalysis:
    analysis = analysis_rows.find_analysis(connection, owner, analysis_id)
    if analysis is None:
        raise NotKnown(
            f"There is no analysis {analysis_id[:40]!r}. GET /v1/trials/ID/analyses lists those of a trial."
        )
    return analysis


def _done(connection: Connection, trial_id: str, version: int) -> Asked | None:
    """The newest analysis of that version of the trial, if this version of the program made it."""
    done = analysis_rows.newest_analysis(connection, trial_id, version, states=(DONE,))
    document = None if done is None else analysis_rows.document_of(connection, done.id)
    if done is None or document is None or document["method"]["version"] != program_version():
        return None
    return Asked(done, document, new=False)
