"""What became of a kept trial since its first readings: its first plan, the changes of it, its batches."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from service.trial.trial import Trial

PLAN_FIELDS = ("margin", "confidence", "planned_rounds", "looks", "reference")


@dataclass(frozen=True)
class Plan:
    """What was fixed before the first readings came, defaults filled in."""

    margin: float
    confidence: float
    planned_rounds: int
    looks: str
    reference: str | None


@dataclass(frozen=True)
class PlanChange:
    """A change after readings had come: the fields that changed, as they were and as they became.

    Fields are the plan's, `struck`, and whatever else moves a verdict. `at` is the time
    in UTC as RFC 3339 writes it.
    """

    number: int
    at: str
    reason: str
    before: Mapping[str, Any]
    after: Mapping[str, Any]


@dataclass(frozen=True)
class BatchAccount:
    """A batch: when it came, what it was ("readings", "correction", "withdrawal") and why.

    `reason` is that of a correction or withdrawal, `withdraws` the number of the batch taken back, `rows` the
    readings in it, `withdrawn_by` the number of the batch that took this one back.
    """

    number: int
    at: str
    kind: str
    rows: int
    reason: str | None = None
    withdraws: int | None = None
    withdrawn_by: int | None = None


@dataclass(frozen=True)
class History:
    """A kept trial's past. `first_plan` stays in force for the looks, whatever was changed since."""

    first_plan: Plan
    changes: tuple[PlanChange, ...] = ()
    batches: tuple[BatchAccount, ...] = ()


def plan_of(trial: Trial) -> Plan:
    """The trial's plan, defaults filled in."""
    return Plan(**{name: getattr(trial, name) for name in PLAN_FIELDS})
