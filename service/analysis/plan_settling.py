"""What the rounds still to come are likely to settle, given the readings there are."""

from typing import Any

from service.analysis.judging import chances_to_settle
from service.analysis.plan_facts import PlanFacts
from service.statistics.bell_reference import Store


def plan_settling(facts: PlanFacts, *, store: Store) -> dict[str, Any] | None:
    """The outcome that stands, and the chance that one does after each round to come, numbered as it will be.

    None where nothing was run yet or nothing is left to run. Cautions that stop a verdict are not foreseen.
    """
    table, rounds = facts.so_far.table, facts.rounds
    if table is None or not rounds:
        return None
    found = chances_to_settle(facts.trial, table, rounds=rounds, store=store)
    first = facts.so_far.next_round
    return {
        "outcome": found.outcome,
        "by_round": [
            {"round": number, "chance": float(chance)}
            for number, chance in enumerate(found.chances, start=first)
        ],
        "why": found.why,
        "trials": found.trials,
    }
