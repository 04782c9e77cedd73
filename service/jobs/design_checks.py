"""From a question to a design check: read or fetch its trials, analyse them, ask, word it, render it.

As for verdicts the libraries behind this are loaded where the work is done.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from service.errors import BadInput, Fault
from service.intake.media_types import JSON
from service.intake.strict_json import strict_json
from service.jobs.in_locale import in_locale
from service.jobs.rendering import renderer_needed
from service.jobs.runners import Runner
from service.jobs.verdicts import Batch, MadeReport
from service.settings import Limits
from service.trial.check_question import ONE_SHOT, Named, Names, names_of_body

if TYPE_CHECKING:
    from service.analysis.design_check import CheckedTrial, Design
    from service.jobs.baselines import Baselines
    from service.jobs.kept_material import Material
    from service.jobs.kept_trials import KeptTrials
    from service.statistics.bell_reference import Store

Document = dict[str, Any]


@dataclass(frozen=True)
class CheckForm:
    """The form of an answer that is no JSON; `paper` None for that of the locale.

    `needs_more_runs_fails` is for JUnit.
    """

    form: str
    paper: str | None = None
    needs_more_runs_fails: bool = False
    locale: str = "en-GB"


@dataclass(frozen=True)
class _Check:
    """The work of one check, done in a worker: of a batch, or of kept trials with their ids."""

    limits: Limits
    references: Path | None
    names: Names | None
    batch: Batch | None = None
    materials: "tuple[tuple[str, Material], ...]" = ()

    def document(self) -> Document:
        """The document with its sentences."""
        from reports.wording.design_check import complete
        from service.analysis.design_check import Question, design_check
        from service.jobs.reference_store import reference_store

        store = reference_store(self.references)
        if self.batch is None:
            names, trials = self.names, self._of_kept(store)
        else:
            names, trials = self._of_batch(self.batch, store)
        if names is None:
            raise BadInput([Fault("Name the baseline and at least one candidate.", pointer="#/baseline")])
        place = {trial.id: place for place, trial in enumerate(trials)}
        designs = [_design(one, place[one.trial]) for one in (names.baseline, *names.candidates)]
        question = Question(
            designs[0], tuple(designs[1:]), names.reference, names.margin, kept_as=names.kept_as
        )
        document = design_check(question, trials, store=store)
        return complete(document, [trial.document for trial in trials])

    def _of_batch(self, batch: Batch, store: "Store") -> "tuple[Names | None, list[CheckedTrial]]":
        from service.analysis.analyse import analysed
        from service.analysis.design_check import CheckedTrial
        from service.intake.batch import read_batch

        names, faults = self._names(batch)
        try:
            trial, readings = read_batch(
                batch.body,
                batch.media_type,
                trial=batch.trial,
                marks=batch.marks(),
                limits=self.limits,
                beside=ONE_SHOT[2:],
            )
        except BadInput as error:
            raise BadInput([*faults, *error.faults], count=error.count + len(faults)) from error
        if faults:
            raise BadInput(faults)
        return names, [CheckedTrial(analysed(trial, readings, store=store))]

    def _of_kept(self, store: "Store") -> "list[CheckedTrial]":
        from service.jobs.checked_trials import checked_trials

        return checked_trials(self.materials, self.limits, store)

    def _names(self, batch: Batch) -> tuple[Names | None, Sequence[Fault]]:
        """As the query gives them, else as the body does, with the faults of the body's."""
        if batch.media_type != JSON or batch.trial is not None:
            return self.names, ()
        content = strict_json(batch.body)
        if not isinstance(content, Mapping) or (self.names is not None and not content.keys() & ONE_SHOT[2:]):
            return self.names, ()
        if self.names is not None:
            detail = "The query names baseline and candidates; leave them out of the body, or of the query."
            return None, [Fault(detail, pointer="#/baseline")]
        try:
            return names_of_body(content), ()
        except BadInput as error:
            return None, error.faults


@dataclass(frozen=True)
class _Report:
    """The work of a check with its rendering."""

    check: _Check
    wish: CheckForm

    def made(self) -> MadeReport:
        """The report, with the outcome."""
        from reports.checks import render_check

        wish, document = self.wish, self.check.document()
        fails = wish.needs_more_runs_fails
        with renderer_needed():
            content = render_check(document, wish.form, paper=wish.paper, needs_more_runs_fails=fails)
        return MadeReport(content, {"outcome": document["outcome"]})


class CheckDesk:
    """Has designs checked, each check within its time.

    references: the folder that keeps the bell-shaped references, None for none.
    """

    def __init__(
        self,
        runner: Runner,
        trials: "KeptTrials",
        baselines: "Baselines",
        *,
        limits: Limits,
        references: Path | None,
    ):
        self._runner = runner
        self._trials = trials
        self._baselines = baselines
        self._limits = limits
        self._references = references

    def of_batch(
        self, batch: Batch, names: Names | None, wish: CheckForm | None = None, *, locale: str = "en-GB"
    ) -> Document | MadeReport:
        """The document of a check on one batch, or a report; `names` None where the body holds them.

        locale: how the sentences of the document are written, for a report what its wish says.

        Raises whatever reading refuses (see `service.intake`), BadInput where the question cannot be asked,
        TooLarge past a limit, JobError.
        """
        return self._run(_Check(self._limits, self._references, names, batch=batch), wish, locale)

    def of_kept(
        self, owner: str, names: Names, wish: CheckForm | None = None, *, locale: str = "en-GB"
    ) -> Document | MadeReport:
        """The same on kept trials. Raises NotKnown too, where one is not there or another's.

        So it is for the name of a baseline that is not kept, or whose trial has been removed.
        """
        names = self._looked_up(owner, names)
        materials = tuple((one, self._trials.material(owner, one)) for one in names.trials())
        return self._run(_Check(self._limits, self._references, names, materials=materials), wish, locale)

    def _looked_up(self, owner: str, names: Names) -> Names:
        """The names, trial and element in place of the name of a baseline."""
        if names.baseline.kept_as is None:
            return names
        found = self._baselines.named(owner, names.baseline.kept_as)
        baseline = replace(names.baseline, samples=(found.element,), trial=found.trial)
        return replace(names, baseline=baseline, kept_as=found.told)

    def _run(self, check: _Check, wish: CheckForm | None, locale: str) -> Document | MadeReport:
        seconds = self._limits.analysis_seconds
        if wish is None:
            return self._runner.run(partial(in_locale, locale, check.document), seconds=seconds)
        work = partial(in_locale, wish.locale, _Report(check, wish).made)
        return self._runner.run(work, seconds=seconds + self._limits.rendering_seconds)


def _design(named: Named, place: int) -> "Design":
    from service.analysis.design_check import Design

    return Design(named.samples, place, named.place)
