"""How the verdict on a kept trial stands: reached, on its way, failed, or not asked for yet."""

import time
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from reports.language import marked, say
from service.pages.joined import joined
from service.pages.troubles import Trouble, place_of

PATIENCE: Final = 4.0
"""Seconds for which a form waits for the verdict before it answers without."""
GLANCE: Final = 0.05
OPEN: Final = frozenset({"waiting", "running"})
STAGES: Final[Mapping[str, str]] = {
    "scores": marked("scores"),
    "verdict": marked("verdict"),
    "other channels": marked("other channels"),
    "document": marked("document"),
}
"""What an analysis is at, in the order it comes to it."""


@dataclass(frozen=True)
class SoFar:
    """The verdict on a version of a trial.

    document: of the analysis that is done, of which `id` is the id. under_way: its id and what is said of it.
    failed: why there is none.
    """

    id: str = ""
    document: Mapping[str, Any] | None = None
    under_way: str = ""
    failed: tuple[Trouble, ...] = ()


@dataclass(frozen=True)
class Stage:
    """A stage of an analysis, by its name, and what is said of a verdict that is at it."""

    name: str
    told: str


def so_far(trial_id: str, version: int) -> SoFar:
    """How the verdict on that version stands."""
    owner, desk = joined().owner(), joined().kept().analyses
    newest = desk.newest(owner, trial_id)
    if newest is not None:
        return SoFar(newest.analysis.id, newest.document)
    for last in desk.page(owner, trial_id, None, limit=1):
        if last.state in OPEN:
            desk.get(owner, last.id)  # lets this process take up what another left behind
            return SoFar(last.id, under_way=_at_stage(last.stage))
        if last.trial_version == version and last.problem is not None:
            return SoFar(last.id, failed=(_failure(last.problem),))
    return SoFar()


def stages() -> tuple[Stage, ...]:
    """What is said at every stage."""
    return tuple(Stage(name, _at_stage(name)) for name in STAGES)


def _at_stage(name: str | None) -> str:
    if not name:
        return say("The verdict is being worked out.")
    stage = say(STAGES[name]) if name in STAGES else name
    return say("The verdict is being worked out: {stage}.", stage=stage)


def ask_for(trial_id: str) -> None:
    """Ask for the verdict on the trial as it is, and wait for it a little."""
    owner, desk = joined().owner(), joined().kept().analyses
    asked = desk.ask(owner, trial_id)
    until = time.monotonic() + PATIENCE
    while asked.analysis.state in OPEN and time.monotonic() < until:
        time.sleep(GLANCE)
        asked = desk.get(owner, asked.analysis.id)


def _failure(problem: Mapping[str, Any]) -> Trouble:
    places = tuple(place_of(fault) for fault in problem.get("errors") or ())
    return Trouble(say("No verdict can be reached on this trial as it is"), str(problem["detail"]), places)
