"""Kept trials analysed as far as a question over several of them needs it."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from service.errors import BadInput
from service.settings import Limits

if TYPE_CHECKING:
    from service.analysis.checks.question import CheckedTrial
    from service.jobs.kept_material import Material
    from service.statistics.bell_reference import Store


def checked_trials(
    materials: "Sequence[tuple[str, Material]]", limits: Limits, store: "Store"
) -> "list[CheckedTrial]":
    """Each with its id, in the order of `materials`.

    Raises BadInput where one cannot be analysed; each fault names its trial.
    """
    from service.analysis.analyse import analysed
    from service.analysis.checks.question import CheckedTrial

    found = []
    for trial_id, material in materials:
        try:
            trial, readings = material.trial_and_readings(limits)
            whole = analysed(trial, readings, store=store, history=material.history)
        except BadInput as error:
            faults = [replace(one, detail=f"Trial {trial_id}: {one.detail}") for one in error.faults]
            raise BadInput(faults, count=error.count) from error
        found.append(CheckedTrial(whole, trial_id))
    return found
