"""A plan from what is to be compared and the time there is: order, rounds, what they can detect."""

from collections.abc import Iterator
from typing import Any

from service.analysis.plan_asking import Asking, check, minutes_per_run
from service.analysis.plan_cautions import plan_cautions
from service.analysis.plan_choices import remount_study, shorter
from service.analysis.plan_facts import PlanFacts, SoFar
from service.analysis.plan_power import Powers, plan_power
from service.analysis.plan_settling import plan_settling
from service.radio.meters import unit_rules
from service.statistics.bell_reference import Store
from service.trial.plan_question import PlanQuestion
from service.trial.run_order import run_order
from service.trial.trial import Trial

STEPS = (1.0, 1.5, 2.0, 3.0, 4.0, 6.0)
"""Differences of which the chance is told, in run-to-run standard deviations."""
ALIKE = 0.05
"""How near, as a share, such a difference may come to the worthwhile one without another row."""


def plan(trial: Trial, question: PlanQuestion, so_far: SoFar, *, store: Store) -> dict[str, Any]:
    """The plan document, without its sentences.

    `trial` names every element, also those of readings so far. Raises BadInput where there is nothing to
    compare, no time of a run, or no time for a single round.
    """
    asking = Asking(trial, question, so_far, store, minutes_per_run(trial, question))
    competing = sum(element.role == "competes" for element in trial.elements)
    check(asking, len(trial.elements), competing)
    facts = asking.facts(len(trial.elements), competing)
    powers = plan_power(facts, seed=asking.seed, store=store)
    detectable = powers.detectable(question.chance)
    return {
        "format": "plan/1",
        "trial": facts.trial.document(),
        "elements": [{"id": one.id, "label": one.label, "role": one.role} for one in trial.elements],
        "allowed": _allowed(trial),
        "rounds": facts.rounds,
        "rounds_done": so_far.rounds_done,
        "first_round": so_far.next_round,
        "order": list(_order(asking, facts)),
        "minutes": facts.rounds * len(trial.elements) * asking.minutes_per_run,
        "minutes_per_run": asking.minutes_per_run,
        "minutes_available": question.minutes_available,
        "rounds_that_fit": asking.fits(len(trial.elements)),
        "seed": asking.seed,
        "chance": question.chance,
        "noise": powers.noise(),
        "difference_unit": trial.meter.unit if powers.sd is not None else "run-to-run sd",
        "first_verdict_round": powers.first_verdict_round,
        "detectable_difference": detectable,
        "settling": plan_settling(facts, store=store),
        "worthwhile": _worthwhile(asking, powers),
        "power": list(_power(asking, powers)),
        "shorter": list(shorter(asking, facts)),
        "remount_study": remount_study(asking, facts, powers),
        "cautions": [caution.document() for caution in plan_cautions(facts, question, powers)],
        "safety": [],
        "method": powers.method(),
        "statement": None,
    }


def _order(asking: Asking, facts: PlanFacts) -> Iterator[dict[str, Any]]:
    """The runs as they come."""
    if not facts.rounds:
        return
    order = run_order(facts.elements, facts.rounds, asking.seed)
    for number, row in enumerate(order.tolist(), start=facts.so_far.next_round):
        for place, index in enumerate(row, start=1):
            yield {"round": number, "place": place, "element": facts.trial.elements[index].id}


def _allowed(trial: Trial) -> dict[str, Any]:
    """What a reading may be: the ends of the scale, on an open one the ends of what is believed."""
    rules, meter = unit_rules(trial.meter.unit), trial.meter
    return {
        "lowest": rules.least if meter.lowest is None else meter.lowest,
        "highest": rules.most if meter.highest is None else meter.highest,
        "resolution": meter.resolution,
    }


def _power(asking: Asking, powers: Powers) -> Iterator[dict[str, Any]]:
    """The chance of each difference round by round."""
    steps = {step * (powers.sd or 1.0) for step in STEPS}
    if powers.sd is not None:
        worthwhile = asking.question.worthwhile_difference or asking.trial.margin
        steps = {step for step in steps if abs(step / worthwhile - 1.0) > ALIKE} | {worthwhile}
    for difference in sorted(steps):
        rows = [{"round": number, "chance": chance} for number, chance in powers.by_round(difference)]
        yield {"difference": difference, "by_round": rows}


def _worthwhile(asking: Asking, powers: Powers) -> dict[str, Any]:
    """The difference that is to be seen, in meter units, and whether it will be: by which round.

    Without a known noise: how quiet the trial must be for it.
    """
    difference = asking.question.worthwhile_difference
    stated = difference is not None
    wanted = asking.trial.margin if difference is None else difference
    told = powers.detectable(asking.question.chance)
    by = None
    if powers.sd is not None:
        chances = powers.by_round(wanted)
        by = next((number for number, chance in chances if chance >= asking.question.chance), None)
    return {
        "difference": wanted,
        "from": "worthwhile_difference" if stated else "margin",
        "by_round": by,
        "sd_at_most": None if told is None else wanted / told * (powers.sd or 1.0),
    }
