"""How far a trial is and what comes next, as a board tells it."""

from dataclasses import dataclass
from typing import Final

from reports import numerals
from reports.document import clean
from reports.wording.speech import listed
from service.jobs.next_runs import NextRuns

UNKNOWN: Final = "not known"
NO_MINUTES: Final = "The trial does not say how long a run takes."
MOST_THEN: Final = 3
"""Elements named behind the next one."""


@dataclass(frozen=True)
class Course:
    """The course of the trial.

    done, planned: whole rounds, as numbers for a bar and in words `rounds`. left: the time that the runs to
    go take, `why` what it is made of. next: the element to put on, `place` its round and run, `then` what
    follows.
    """

    done: str
    planned: str
    rounds: str
    left: str
    why: str
    next: str
    place: str
    then: tuple[str, ...]


def course(coming: NextRuns | None, minutes_per_run: float | None, *, open_still: bool) -> Course:
    """The course; `open_still` tells that the verdict wants more runs, so that going on makes sense."""
    if coming is None:
        why = "The trial refers to what its readings lack; its page says what."
        return Course("0", "1", UNKNOWN, UNKNOWN, why, UNKNOWN, "", ())
    to_go = runs_to_go(coming)
    left, why = _time(to_go, minutes_per_run)
    element, place, then = _next(coming, to_go, open_still=open_still)
    planned = max(coming.planned_rounds, coming.rounds_done)
    return Course(
        str(coming.rounds_done),
        str(planned),
        _rounds(coming),
        left,
        why=why,
        next=element,
        place=place,
        then=then,
    )


def _rounds(coming: NextRuns) -> str:
    done, planned = numerals.count(coming.rounds_done), numerals.count(coming.planned_rounds)
    return (
        f"{done}, planned {planned}" if coming.rounds_done > coming.planned_rounds else f"{done} of {planned}"
    )


def runs_to_go(coming: NextRuns) -> int:
    """Runs that the planned rounds still lack."""
    missing = sum(number <= coming.planned_rounds for _, number in coming.also_missing)
    if coming.round_number > coming.planned_rounds:
        return missing
    later = coming.planned_rounds - coming.round_number
    return missing + len(coming.runs) + later * len(coming.order)


def _time(to_go: int, minutes_per_run: float | None) -> tuple[str, str]:
    if to_go == 0:
        return "none", "All planned runs are done."
    runs = numerals.number_of(to_go, "run", "runs")
    if not minutes_per_run:
        return UNKNOWN, f"{runs} to go. {NO_MINUTES}"
    return numerals.duration(
        to_go * minutes_per_run / 60
    ), f"{runs} to go, {numerals.plain(minutes_per_run)} minutes each"


def _next(coming: NextRuns, to_go: int, *, open_still: bool) -> tuple[str, str, tuple[str, ...]]:
    """The element to put on next, where in which round, and what follows."""
    if not coming.runs:
        return "not named yet", "The trial names no element.", ()
    if to_go == 0 and not open_still:
        return "nothing", "All planned runs are done, and the question is answered.", ()
    first, *rest = [_name(coming, element) for element in coming.runs]
    place = coming.order.index(coming.runs[0]) + 1
    where = f"round {coming.round_number}, run {place} of {len(coming.order)}"
    beyond = "Beyond the plan: " if to_go == 0 else ""
    then = (f"Then {listed(rest, most=MOST_THEN)}.",) if rest else ("With it the round is whole.",)
    return first, f"{beyond}{where}", then


def _name(coming: NextRuns, element: str) -> str:
    return clean(coming.labels.get(element, element))
