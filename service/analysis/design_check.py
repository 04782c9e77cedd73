"""The design-check document: may a new design ship? Every field present, no sentences.

In one trial the question is asked by the sign-flip interval of the round differences, after every round if
the plan says so; between two trials through the reference that both hold, once, by limits of Welch's kind.
"""

from collections.abc import Sequence
from typing import Any

from service.analysis.checks.across import across_trials
from service.analysis.checks.cautions import heard
from service.analysis.checks.finding import Finding
from service.analysis.checks.question import CheckedTrial, Design, Question, Settled, settled
from service.analysis.checks.reasons import reasons
from service.analysis.checks.reception import reception
from service.analysis.checks.signals import Signals, shared_signals
from service.analysis.checks.trial_entries import identifier, trial_entry
from service.analysis.checks.within import within_one_trial
from service.analysis.facts import Facts
from service.analysis.plain_numbers import number
from service.statistics.bell_reference import Store
from service.statistics.non_inferiority import FALLS_SHORT, HOLDS
from service.statistics.results import NEEDS_MORE_RUNS

FORMAT = "design-check/1"

__all__ = ["CheckedTrial", "Design", "Question", "design_check"]


def design_check(question: Question, trials: Sequence[CheckedTrial], *, store: Store) -> dict[str, Any]:
    """The document of a check, without its sentences.

    `trials` holds those that the designs of the question name by place, each used. Raises BadInput where the
    question cannot be asked of them.
    """
    asked = settled(question, trials)
    signals = shared_signals(asked.trials) if asked.across else _own(asked)
    found = across_trials(asked, signals) if asked.across else within_one_trial(asked, store)
    findings, cautions = heard(asked, found, signals)
    checks = [
        _check(asked, design, finding, signals=signals)
        for design, finding in zip(asked.question.candidates, findings, strict=True)
    ]
    return {
        "format": FORMAT,
        "check_id": _check_id(asked),
        "outcome": _overall([str(check["outcome"]) for check in checks]),
        "statement": None,
        "design": "through a reference" if asked.across else "one trial",
        "reference": asked.reference,
        "baseline_kept_as": None if asked.question.kept_as is None else dict(asked.question.kept_as),
        "unit": asked.trials[0].facts.trial.meter.unit,
        "margin": asked.margin,
        "margin_from": asked.margin_from,
        "checks": checks,
        "rf_channels": {
            "used": list(signals.used),
            "left_out": [
                {"rf_channel": name, "why": why, "trial": place} for name, why, place in signals.left_out
            ],
        },
        "trials": [trial_entry(trial) for trial in asked.trials],
        "cautions": cautions,
        "not_seen": [],
        "method": _method(asked, findings),
    }


def _own(asked: Settled) -> Signals:
    table = asked.trial_of(asked.question.baseline).facts.table
    left_out = tuple((left.name, left.why, asked.question.baseline.trial) for left in table.left_out)
    return Signals(table.rf_channels, left_out)


def _overall(outcomes: Sequence[str]) -> str:
    """`falls short` if any does, `holds` if all do."""
    if FALLS_SHORT in outcomes:
        return FALLS_SHORT
    return HOLDS if set(outcomes) == {HOLDS} else NEEDS_MORE_RUNS


def _check(asked: Settled, design: Design, found: Finding, *, signals: Signals) -> dict[str, object]:
    facts, check, baseline = asked.trial_of(design).facts, found.check, asked.question.baseline
    decided = found.outcome != NEEDS_MORE_RUNS
    return {
        "candidate": design.name,
        "candidate_label": _label(facts, design),
        "candidate_trial": design.trial,
        "samples": list(design.samples),
        "baseline": baseline.name,
        "baseline_label": _label(asked.trial_of(baseline).facts, baseline),
        "baseline_trial": baseline.trial,
        "outcome": found.outcome,
        "difference": number(check.difference),
        "limits": {"low": number(check.low), "high": number(check.high), "level": check.level},
        "margin": asked.margin,
        "p_value": number(check.p_value),
        "rounds": check.rounds,
        "baseline_rounds": found.baseline_rounds,
        "decided_at_round": _decided_at(asked, design, found) if decided else None,
        "more_rounds": found.more_rounds,
        "more_rounds_safe": found.more_rounds_safe,
        "reception": reception(asked, design),
        "with_struck": found.with_struck,
        "reasons": [] if decided else reasons(asked, design, found, signals=signals),
        "method": found.method,
        "statement": None,
        "reception_statement": None,
    }


def _label(facts: Facts, design: Design) -> str:
    return ", ".join(facts.element(name).label for name in design.samples)


def _decided_at(asked: Settled, design: Design, found: Finding) -> int | None:
    """The label of the round; a check that is asked once is decided at the last."""
    facts = asked.trial_of(design).facts
    once = asked.across or len(design.samples) > 1
    return facts.rounds[-1] if once else facts.label(found.check.decided_at)


def _method(asked: Settled, findings: Sequence[Finding]) -> dict[str, object]:
    facts = asked.trial_of(asked.question.candidates[0]).facts
    count = len(findings)
    shares_alike = not asked.across and any(len(one.samples) > 1 for one in asked.question.candidates)
    steps = [asked.share] * count if shares_alike else [asked.alpha / (count - i) for i in range(count)]
    once = asked.across or all(len(one.samples) > 1 for one in asked.question.candidates)
    made = asked.trials[0].document["method"]
    return {
        "alpha": asked.alpha,
        "sides": "one-sided",
        "several": "equal shares" if shares_alike else "Holm",
        "steps": steps,
        "planned_rounds": facts.trial.planned_rounds,
        "looks": "once" if once else facts.trial.looks,
        "seed": facts.trial.seed,
        "unit": "round",
        "version": made["version"],
        "versions": made["versions"],
    }


def _check_id(asked: Settled) -> str:
    """From the question and the readings, so that another question makes another document."""
    whole = {
        "baseline": [asked.question.baseline.trial, *asked.question.baseline.samples],
        "candidates": [[one.trial, *one.samples] for one in asked.question.candidates],
        "reference": asked.reference,
        "margin": asked.margin,
        "trials": [trial.document["provenance"]["report_id"] for trial in asked.trials],
    }
    return identifier("DC", whole)
