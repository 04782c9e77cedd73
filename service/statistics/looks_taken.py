"""What each look said of its leader and the nearest rival: how the answer narrowed, and where it fell."""

from math import inf

from service.statistics.leader import leader_answer
from service.statistics.results import Against, Flags, LookTaken
from service.statistics.trial_looks import TrialLooks


def looks_taken(looks: TrialLooks, competing: Flags) -> tuple[LookTaken, ...]:
    """Every look of the leader's question so far, in order; competing (K,): elements that may win.

    The nearest rival is the one whose interval reaches lowest: it decides whether the leader beats them all.
    """
    taken = []
    for number in range(1, looks.rounds + 1):
        answer = leader_answer(looks, number, competing)
        if answer.leader is None or not answer.is_look:
            continue
        nearest = min(answer.against, key=_lowest)
        taken.append(LookTaken(number, answer.leader, nearest, answer.outcome))
    return tuple(taken)


def _lowest(rival: Against) -> tuple[float, float]:
    """Sorts by the lower end, an interval without ends first, then by the difference."""
    return (
        -inf if rival.low is None else rival.low,
        -inf if rival.difference is None else rival.difference,
    )
