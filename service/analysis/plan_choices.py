"""What else the time could bring: with fewer elements, or by remounts and a scan of each."""

from collections.abc import Iterator
from typing import Any

from service.analysis.plan_asking import FEWEST_COMPETING, JUST, Asking
from service.analysis.plan_facts import PlanFacts
from service.analysis.plan_power import Powers, plan_power
from service.statistics.known_noise import BELOW_ROUNDS, FEWEST_FREEDOM
from service.statistics.remount_study import detectable_after_remounts

REMOUNTS = 10  # nine degrees of freedom, the fewest from which a known repeatability is taken
MOST_DROPPED = 3


def shorter(asking: Asking, facts: PlanFacts) -> Iterator[dict[str, Any]]:
    """What the same time brings without some of the elements, the last that compete left out first.

    The reference stays; twins and pads go last, for they are what tells a fooled trial from a good one.
    """
    if facts.rounds_held:
        return
    competing = [
        one.id for one in asking.trial.elements if one.role == "competes" and one.id != asking.trial.reference
    ]
    kept_by_reference = facts.competing - len(competing)
    spare = competing[max(0, FEWEST_COMPETING - kept_by_reference) :][::-1]
    controls = [one.id for role in ("pad", "twin") for one in asking.trial.elements if one.role == role]
    leaving = [*spare, *controls][:MOST_DROPPED]
    for count in range(1, len(leaving) + 1):
        dropped = leaving[:count]
        left = facts.competing - sum(name in spare for name in dropped)
        fewer = asking.facts(facts.elements - count, left)
        found = plan_power(fewer, seed=asking.seed, store=asking.store)
        yield {
            "drop": dropped,
            "rounds": fewer.rounds,
            "detectable_difference": found.detectable(asking.question.chance),
            "minutes": fewer.rounds * fewer.elements * asking.minutes_per_run,
        }


def remount_study(asking: Asking, facts: PlanFacts, powers: Powers) -> dict[str, Any] | None:
    """Whether remounts of one element, then one scan of each, would do; null where that is no way.

    It is none where the noise is known already or rounds have been run that say more of it.
    """
    known = facts.trial.known_repeatability
    done = facts.so_far.rounds_held
    if done >= BELOW_ROUNDS or (known is not None and known.degrees_of_freedom >= FEWEST_FREEDOM):
        return None
    ids = [one.id for one in facts.trial.elements if one.role == "competes"]
    minutes = (REMOUNTS + facts.elements * (done == 0)) * asking.minutes_per_run
    detectable = detectable_after_remounts(
        powers.design,
        remounts=REMOUNTS,
        rounds=max(1, done),
        chance=asking.question.chance,
        seed=asking.seed,
    )
    return {
        "element": facts.trial.reference or ids[0],
        "remounts": REMOUNTS,
        "then": int(done == 0),
        "minutes": minutes,
        "fits": minutes <= asking.question.minutes_available + JUST,
        "detectable_difference": detectable,
    }
