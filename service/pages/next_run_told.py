"""What to put on next, in plain words."""

from dataclasses import dataclass

from reports import numerals
from reports.document import clean
from reports.wording.speech import listed
from service.jobs.next_runs import NextLook, NextRuns


@dataclass(frozen=True)
class NextRunTold:
    """The next run: the element, where in which round, what else is to be run, and the look it leads to."""

    element: str
    where: str
    also: tuple[str, ...]
    look: str


def next_run_told(coming: NextRuns) -> tuple[NextRunTold, ...]:
    """The next run; none where the trial names no element yet."""
    if not coming.runs:
        return ()
    first, *rest = [_name(coming, element) for element in coming.runs]
    place = coming.order.index(coming.runs[0]) + 1
    missing = [f"{_name(coming, element)} in round {number}" for element, number in coming.also_missing]
    then = (f"Then {listed(rest)}.",) if rest else ("With it the round is whole.",)
    lack = (f"Earlier rounds lack: {listed(missing)}.",) if missing else ()
    where = f"Round {coming.round_number}, run {place} of {len(coming.order)}"
    return (NextRunTold(first, where, (*then, *lack), _look(coming.look)),)


def _name(coming: NextRuns, element: str) -> str:
    return clean(coming.labels.get(element, element))


def _look(look: NextLook) -> str:
    """What the next look may spend, counted in trials of a thousand."""
    allowed, before, then = (
        numerals.in_a_thousand(share) for share in (look.allowed, look.spent_before, look.spent_by_then)
    )
    rounds = numerals.number_of(look.rounds, "whole round", "whole rounds")
    return (
        f"The next look comes after {rounds}. Of 1000 such trials at most {allowed} may end in a wrong call; "
        f"the looks so far may have used {before} of these, with the next one {then}. That was fixed before "
        "the readings, so looking costs nothing more."
    )
