"""The runs to come in a kept trial, worked out where all work is."""

from functools import partial
from typing import TYPE_CHECKING

from service.errors import BadInput
from service.jobs.next_runs import NextRuns, next_runs
from service.pages.joined import joined

if TYPE_CHECKING:
    from service.jobs.kept_material import Material


def runs_to_come(material: "Material") -> NextRuns | None:
    """The runs to come; None where the trial refers to what its readings lack, as its verdict then says."""
    limits = joined().limits
    work = partial(next_runs, material, limits)
    try:
        return joined().kept().runner.run(work, seconds=limits.analysis_seconds)
    except BadInput:
        return None
