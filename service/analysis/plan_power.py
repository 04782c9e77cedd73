"""What a plan can detect: the rule as the trial will use it, handed to the simulation."""

from dataclasses import dataclass
from typing import Any

from service.analysis.plan_facts import PlanFacts
from service.statistics.bell_reference import Store, bell_draws
from service.statistics.power import Design, Power, power
from service.statistics.results import Rule

NO_MARGIN = 1e-9
"""Stands for a margin that nobody can set against a noise that is not known: nothing lies inside it."""


@dataclass(frozen=True)
class Powers:
    """The simulated trials of a plan; differences are in meter units, in run-to-run sd without a known sd.

    `simulated` is None where no round is planned and none was run.
    """

    facts: PlanFacts
    design: Design
    simulated: Power

    @property
    def sd(self) -> float | None:
        """The sd in meter units; None where it is the unit."""
        return self.facts.sd

    @property
    def first_verdict_round(self) -> int | None:
        """How many complete rounds any verdict needs, null where the plan has too few."""
        return self.simulated.first_look

    def detectable(self, chance: float) -> float | None:
        """The smallest difference that is named with this chance by the end of the plan."""
        return self.simulated.detectable(chance)

    def by_round(self, difference: float) -> list[tuple[int, float]]:
        """The chance that the winner stands named after so many complete rounds, those done included."""
        chances = self.simulated.chances(difference)
        return [(number, float(chance)) for number, chance in enumerate(chances, start=1)]

    def noise(self) -> dict[str, Any]:
        """The run-to-run sd, and what tells it."""
        freedom = self.facts.so_far.degrees_of_freedom
        if self.facts.known is not None:
            freedom = int(self.facts.known.degrees_of_freedom)
        return {"sd": self.sd, "degrees_of_freedom": freedom or None, "from": self.facts.sd_from}

    def method(self) -> dict[str, Any]:
        """How the chances were found."""
        rule, design = self.design.rule, self.design
        return {
            "trials": self.simulated.trials,
            "bell_shaped_draws": bell_draws(design.elements, design.rounds),
            "planned_rounds": rule.planned,
            "confidence": 1.0 - rule.alpha,
            "looks": "every round" if rule.every_round else "planned end",
            "margin": None if self.sd is None else rule.margin,
            "elements": design.elements,
            "competing": design.competing,
        }


def plan_power(facts: PlanFacts, *, seed: int, store: Store) -> Powers:
    """Simulate the trial that a plan leads to, from its first round to its last."""
    trial, sd = facts.trial, facts.sd
    step, channels = trial.meter.resolution or 0.0, max(1, len(facts.carriers.names))
    rule = Rule(
        planned=trial.planned_rounds,
        alpha=1.0 - trial.confidence,
        every_round=trial.looks == "every round",
        margin=NO_MARGIN if sd is None else trial.margin,
        floor=0.0 if sd is None else step**2 / (6 * channels),
        seed=trial.seed,
    )
    design = Design(
        elements=facts.elements,
        competing=facts.competing,
        rounds=max(1, facts.total),
        rule=rule,
        sd=1.0 if sd is None else sd,
        known=facts.known,
    )
    return Powers(facts, design, power(design, seed=seed, store=store))
