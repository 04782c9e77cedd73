"""What to put on next, in plain words."""

from dataclasses import dataclass

from reports import numerals
from reports.document import clean
from reports.language import say, say_number
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
    from reports.wording.speech import listed  # loads all the words of reports

    if not coming.runs:
        return ()
    first, *rest = [_name(coming, element) for element in coming.runs]
    place = coming.order.index(coming.runs[0]) + 1
    missing = [
        say("{element} in round {number}", element=_name(coming, element), number=number)
        for element, number in coming.also_missing
    ]
    then = say("Then {elements}.", elements=listed(rest)) if rest else say("With it the round is whole.")
    lack = (say("Earlier rounds lack: {runs}.", runs=listed(missing)),) if missing else ()
    where = say(
        "Round {round}, run {run} of {runs}. A printed sheet that you follow goes before this.",
        round=coming.round_number,
        run=place,
        runs=len(coming.order),
    )
    return (NextRunTold(first, where, (then, *lack), _look(coming.look)),)


def _name(coming: NextRuns, element: str) -> str:
    return clean(coming.labels.get(element, element))


def _look(look: NextLook) -> str:
    """What the next look may spend, counted in trials of a thousand."""
    allowed, before, then = (
        numerals.in_a_thousand(share) for share in (look.allowed, look.spent_before, look.spent_by_then)
    )
    return say_number(
        "The next look comes after {rounds} whole round. Of 1000 such trials at most {allowed} may end in a "
        "wrong call; the looks so far may have used {before} of these, with the next one {then}. That was "
        "fixed before the readings, so looking costs nothing more.",
        "The next look comes after {rounds} whole rounds. Of 1000 such trials at most {allowed} may end in a "
        "wrong call; the looks so far may have used {before} of these, with the next one {then}. That was "
        "fixed before the readings, so looking costs nothing more.",
        look.rounds,
        rounds=numerals.count(look.rounds),
        allowed=allowed,
        before=before,
        then=then,
    )
