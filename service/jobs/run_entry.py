"""What a run is entered by hand with: its channels in their order, the meter, and which runs are there."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.jobs.next_runs import NextRuns, Run, next_runs
from service.settings import Limits

if TYPE_CHECKING:
    from service.jobs.kept_material import Material
    from service.trial.trial import Channel, Meter


@dataclass(frozen=True)
class RunEntry:
    """A trial for whoever enters its next run.

    channels: in the order of the trial's list, those that only readings name behind them. held: runs that
    have readings, with how many channels each.
    """

    coming: NextRuns
    meter: "Meter"
    channels: "tuple[Channel, ...]"
    held: Mapping[Run, int]


def run_entry(material: "Material", limits: Limits) -> RunEntry:
    """What a run of the trial is entered with.

    Raises BadInput where the document refers to what is not in the readings.
    """
    from service.trial.rounds import assign_rounds
    from service.trial.trial_document import trial_from_document

    coming = next_runs(material, limits)
    if not material.batches:
        trial = trial_from_document(material.trial_document, limits=limits)
        return RunEntry(coming, trial.meter, trial.channels, {})
    trial, readings = material.trial_and_readings(limits)
    cells = assign_rounds(readings).frame[["element", "round", "channel"]].drop_duplicates()
    held = Counter(zip(map(str, cells["element"]), map(int, cells["round"]), strict=True))
    return RunEntry(coming, trial.meter, trial.channels, held)
