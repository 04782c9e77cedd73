"""Why a check cannot be answered yet: codes with their evidence."""

from service.analysis.checks.finding import Finding
from service.analysis.checks.question import Design, Settled
from service.analysis.checks.signals import Signals
from service.analysis.plain_numbers import number
from service.statistics.results import NEEDS_MORE_RUNS
from service.statistics.welch_limits import FEWEST_ROUNDS

Evidence = dict[str, object]


def reasons(asked: Settled, design: Design, found: Finding, *, signals: Signals) -> list[dict[str, object]]:
    """Why a candidate needs more runs: what stops it, and what its readings leave open."""
    given: list[tuple[str, Evidence]] = []
    if found.stopped_by:
        given.append(("stopped", {"cautions": list(found.stopped_by), "otherwise": found.check.outcome}))
    if found.check.outcome == NEEDS_MORE_RUNS:
        given.append(_left_open(asked, design, found, signals=signals))
    return [{"code": code, "evidence": evidence} for code, evidence in given]


def _left_open(asked: Settled, design: Design, found: Finding, *, signals: Signals) -> tuple[str, Evidence]:
    tables = [asked.trial_of(one).facts.table for one in (asked.question.baseline, design)]
    rounds: Evidence = {"rounds": found.check.rounds, "baseline_rounds": found.baseline_rounds}
    if not all(table.rf_channels for table in tables):
        return "no-level", {}
    if not signals.used:
        return "no-shared-signal", {}
    if not (found.check.rounds and found.baseline_rounds):
        return _no_round(asked, design, found)
    if number(found.check.low) is None:
        return "no-limits-yet", rounds | {"fewest_rounds": FEWEST_ROUNDS if asked.across else None}
    return "limits-hold-the-margin", {}


def _no_round(asked: Settled, design: Design, found: Finding) -> tuple[str, Evidence]:
    """No round holds both; through a reference, which element is never run beside it."""
    if not asked.across:
        return "no-shared-round", {}
    pairs = ((design, found.check.rounds), (asked.question.baseline, found.baseline_rounds))
    apart = [{"element": one.name, "trial": one.trial} for one, rounds in pairs if not rounds]
    evidence: Evidence = {"reference": asked.reference, "apart": apart, "fewest_rounds": FEWEST_ROUNDS}
    return "no-round-with-reference", evidence
