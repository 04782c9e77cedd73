"""From a question to a plan: read what was run so far, plan, word it, make a sheet of it if wanted.

As for verdicts the libraries behind this are loaded where the work is done.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from service.errors import BadInput, Fault, TooLarge
from service.intake.media_types import JSON
from service.jobs.in_locale import in_locale
from service.jobs.rendering import renderer_needed
from service.jobs.runners import Runner
from service.jobs.verdicts import Batch
from service.settings import Limits

if TYPE_CHECKING:
    from service.analysis.plan_facts import SoFar
    from service.jobs.kept_material import Material
    from service.jobs.kept_trials import KeptTrials
    from service.trial.readings_table import Readings
    from service.trial.trial import Trial

Document = dict[str, Any]


@dataclass(frozen=True)
class PlanDesk:
    """Has plans made, each within its time; `references` keeps the bell-shaped references, None for none."""

    runner: Runner
    trials: "KeptTrials"
    limits: Limits
    references: Path | None

    def document(
        self, owner: str, question: Mapping[str, Any], file: Batch | None = None, *, locale: str = "en-GB"
    ) -> Document:
        """The plan document, worded in the locale; `file` holds the readings of a trial under way.

        Raises BadInput with every fault, NotKnown for a kept trial that is not there or another's, TooLarge,
        TooMany and JobError.
        """
        work = partial(in_locale, locale, self._work(owner, question, file).document)
        return self.runner.run(work, seconds=self.limits.analysis_seconds)

    def sheet(self, owner: str, question: Mapping[str, Any], file: Batch | None, *, wish: "Wish") -> bytes:
        """The plan as a run sheet or as a table to fill in. Raises the same, and RendererMissingError."""
        work = _Sheet(self._work(owner, question, file), wish)
        seconds = self.limits.analysis_seconds + self.limits.rendering_seconds
        return self.runner.run(partial(in_locale, wish.locale, work.made), seconds=seconds)

    def _work(self, owner: str, question: Mapping[str, Any], file: Batch | None) -> "_Plan":
        kept = question.get("continues")
        material = self.trials.material(owner, kept) if isinstance(kept, str) else None
        return _Plan(self.limits, self.references, question, file=file, material=material)


@dataclass(frozen=True)
class Wish:
    """The form of an answer that is no JSON, its paper, None for that of the locale, and the locale."""

    form: str
    paper: str | None = None
    locale: str = "en-GB"


@dataclass(frozen=True)
class _Plan:
    """The work of one plan, done in a worker."""

    limits: Limits
    references: Path | None
    question: Mapping[str, Any]
    file: Batch | None = None
    material: "Material | None" = None

    def document(self) -> Document:
        """The document with its sentences. Raises BadInput with every fault."""
        from reports.wording.plan import complete_plan
        from service.analysis.planning import plan
        from service.jobs.reference_store import reference_store
        from service.trial.plan_question import checked_question

        question, faults = checked_question(self.question, limits=self.limits)
        try:
            trial, so_far = self._trial()
        except BadInput as error:
            raise BadInput([*faults, *error.faults], count=error.count + len(faults)) from error
        if faults:
            raise BadInput(faults)
        return complete_plan(plan(trial, question, so_far, store=reference_store(self.references)))

    def _trial(self) -> "tuple[Trial, SoFar]":
        """The trial under the plan in force, and what was run of it."""
        from service.analysis.history import in_force
        from service.analysis.plan_facts import NOTHING_YET, so_far
        from service.trial.names import with_names_of
        from service.trial.trial_document import trial_from_document

        if self.material is not None:
            self._refuse_beside_kept()
            trial = in_force(
                trial_from_document(self.material.trial_document, limits=self.limits), self.material.history
            )
            if not self.material.batches:
                return self._alone(trial), NOTHING_YET
            readings = self.material.readings
            trial = with_names_of(trial, readings)
            return trial, so_far(trial, readings)
        if self.file is None and self.question.get("continues") is None:
            return self._alone(trial_from_document(self._given_trial(), limits=self.limits)), NOTHING_YET
        trial, readings = self._continued()
        return trial, so_far(trial, readings)

    def _given_trial(self) -> Mapping[str, Any]:
        trial = self.question.get("trial")
        if isinstance(trial, Mapping):
            return trial
        detail = (
            'This is required: the trial document, at least {"meter": {"unit": "bars"}} and its elements.'
        )
        raise BadInput([Fault(detail, pointer="#/trial")])

    def _refuse_beside_kept(self) -> None:
        detail = "The kept trial that is continued says this. Leave it out."
        if self.question.get("trial") is not None:
            raise BadInput([Fault(detail, pointer="#/trial")])
        if self.file is not None:
            raise BadInput([Fault(detail, pointer="#/readings")])

    def _alone(self, trial: "Trial") -> "Trial":
        """A trial without readings, once all that it refers to is there."""
        from service.trial.names import control_faults, known_faults

        faults = control_faults(trial) + (known_faults(trial) if trial.channels else [])
        if faults:
            raise BadInput(faults)
        return replace(trial, struck=())

    def _continued(self) -> "tuple[Trial, Readings]":
        """The trial with its readings so far: of the file, or the list under `continues`."""
        from service.intake.batch import read_batch

        given = self.question.get("continues")
        batch = self.file
        if batch is not None and given is not None:
            detail = "The file of readings is what is continued. Leave this out."
            raise BadInput([Fault(detail, pointer="#/continues")])
        if batch is None:
            if not isinstance(given, list):
                detail = "Give the id of a kept trial, or a list of readings; send a file as a form."
                raise BadInput([Fault(detail, pointer="#/continues")])
            batch = Batch(json.dumps({"readings": given}).encode(), JSON)
        try:
            return read_batch(
                batch.body,
                batch.media_type,
                trial=self._given_trial(),
                marks=batch.marks(),
                limits=self.limits,
            )
        except BadInput as error:
            placed = [_placed(fault) for fault in error.faults] if self.file is None else error.faults
            raise BadInput(placed, count=error.count) from error


@dataclass(frozen=True)
class _Sheet:
    """The work of a plan with its sheet."""

    plan: _Plan
    wish: Wish

    def made(self) -> bytes:
        """The sheet. Raises TooLarge for one that nobody could carry."""
        from reports.plans import MOST_BOXES, boxes, render_plan

        document = self.plan.document()
        if self.wish.form in {"html", "pdf"} and boxes(document) > MOST_BOXES:
            raise TooLarge(
                f"A run sheet holds at most {MOST_BOXES} boxes for readings; this plan has "
                f"{boxes(document)}. Ask for form=xlsx or form=csv, or scan fewer channels."
            )
        with renderer_needed():
            return render_plan(document, self.wish.form, paper=self.wish.paper)


def _placed(fault: Fault) -> Fault:
    """A fault of the readings, where they stand in the body of the question."""
    place = fault.pointer or ""
    if not place.startswith("#/readings"):
        return fault
    return replace(fault, pointer=place.replace("#/readings", "#/continues", 1))
