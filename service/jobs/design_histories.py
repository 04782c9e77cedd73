"""From a question to a design's history: fetch its trials, analyse them, ask, word it, render it.

As for verdicts the libraries behind this are loaded where the work is done.
"""

from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from service.jobs.in_locale import in_locale
from service.jobs.rendering import renderer_needed
from service.jobs.runners import Runner
from service.jobs.verdicts import MadeReport
from service.settings import Limits

if TYPE_CHECKING:
    from service.jobs.kept_material import Material
    from service.jobs.kept_trials import KeptTrials
    from service.trial.history_question import HistoryQuestion

Document = dict[str, Any]


@dataclass(frozen=True)
class _History:
    """The work of one history, done in a worker."""

    limits: Limits
    references: Path | None
    question: "HistoryQuestion"
    materials: "tuple[tuple[str, Material], ...]"

    def document(self) -> Document:
        """The document with its sentences."""
        from reports.wording.design_history import complete
        from service.analysis.design_history import design_history
        from service.jobs.checked_trials import checked_trials
        from service.jobs.reference_store import reference_store

        trials = checked_trials(self.materials, self.limits, reference_store(self.references))
        document = design_history(self.question, trials)
        by_id = {trial.id: trial.document for trial in trials}
        return complete(document, [by_id[entry["id"]] for entry in document["trials"]])


@dataclass(frozen=True)
class _Report:
    """The work of a history with its rendering."""

    history: _History
    form: str
    paper: str | None

    def made(self) -> MadeReport:
        """The report, with the outcome."""
        from reports.histories import render_history

        document = self.history.document()
        with renderer_needed():
            content = render_history(document, self.form, paper=self.paper)
        return MadeReport(content, {"outcome": document["outcome"]})


class HistoryDesk:
    """Has histories made of kept trials, each within its time.

    references: the folder that keeps the bell-shaped references, None for none.
    """

    def __init__(self, runner: Runner, trials: "KeptTrials", *, limits: Limits, references: Path | None):
        self._runner = runner
        self._trials = trials
        self._limits = limits
        self._references = references

    def document(self, owner: str, question: object) -> Document:
        """The document of the history that a body asks for.

        Raises BadInput where the question is none or cannot be asked, NotKnown where a trial is not there or
        another's, TooLarge past a limit, JobError.
        """
        seconds = self._limits.analysis_seconds
        return self._runner.run(self._asked(owner, question).document, seconds=seconds)

    def report(
        self, owner: str, question: object, *, form: str, paper: str | None, locale: str = "en-GB"
    ) -> MadeReport:
        """The same as a report in one of the forms of `reports.histories`; raises the same."""
        report = _Report(self._asked(owner, question), form, paper)
        seconds = self._limits.analysis_seconds + self._limits.rendering_seconds
        return self._runner.run(partial(in_locale, locale, report.made), seconds=seconds)

    def _asked(self, owner: str, question: object) -> _History:
        from service.trial.history_question import checked_history_question

        asked = checked_history_question(question, limits=self._limits)
        materials = tuple((one, self._trials.material(owner, one)) for one in asked.trials)
        return _History(self._limits, self._references, asked, materials)
