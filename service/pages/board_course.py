"""How far a trial is and what comes next, as a board tells it."""

from dataclasses import dataclass
from typing import Final

from reports import numerals
from reports.document import clean
from reports.language import marked, say, say_number
from service.jobs.next_runs import NextRuns

UNKNOWN: Final = marked("not known")
DONE: Final = marked("All planned runs are done.")
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
        why = say("The trial refers to what its readings lack; its page says what.")
        unknown = say(UNKNOWN)
        return Course("0", "1", unknown, unknown, why, unknown, "", ())
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
    if coming.rounds_done > coming.planned_rounds:
        return say("{done}, planned {planned}", done=done, planned=planned)
    return say("{done} of {planned}", done=done, planned=planned)


def runs_to_go(coming: NextRuns) -> int:
    """Runs that the planned rounds still lack."""
    missing = sum(number <= coming.planned_rounds for _, number in coming.also_missing)
    if coming.round_number > coming.planned_rounds:
        return missing
    later = coming.planned_rounds - coming.round_number
    return missing + len(coming.runs) + later * len(coming.order)


def _time(to_go: int, minutes_per_run: float | None) -> tuple[str, str]:
    if to_go == 0:
        return say("none"), say(DONE)
    runs = numerals.number_of(to_go, "run", "runs")
    if not minutes_per_run:
        return say(UNKNOWN), say("{runs} to go. The trial does not say how long a run takes.", runs=runs)
    each = say_number(
        "{runs} to go, {number} minutes each",
        "{runs} to go, {number} minutes each",
        minutes_per_run,
        runs=runs,
        number=numerals.plain(minutes_per_run),
    )
    return numerals.duration(to_go * minutes_per_run / 60), each


def _next(coming: NextRuns, to_go: int, *, open_still: bool) -> tuple[str, str, tuple[str, ...]]:
    """The element to put on next, where in which round, and what follows."""
    from reports.wording.speech import listed  # loads all the words of reports

    if not coming.runs:
        return say("not named yet"), say("The trial names no element."), ()
    if to_go == 0 and not open_still:
        return say("nothing"), say("All planned runs are done, and the question is answered."), ()
    first, *rest = [_name(coming, element) for element in coming.runs]
    place = coming.order.index(coming.runs[0]) + 1
    where = marked("round {round}, run {run} of {runs}")
    if to_go == 0:
        where = marked("Beyond the plan: round {round}, run {run} of {runs}")
    placed = say(where, round=coming.round_number, run=place, runs=len(coming.order))
    if not rest:
        return first, placed, (say("With it the round is whole."),)
    return first, placed, (say("Then {elements}.", elements=listed(rest, most=MOST_THEN)),)


def _name(coming: NextRuns, element: str) -> str:
    return clean(coming.labels.get(element, element))
