"""The design-history document: does an element creep against the reference? No sentences yet.

In each trial of the history the element's difference to the reference is taken over the rounds that hold
both; over the dates of the trials a straight line is drawn through these differences.
"""

from collections.abc import Sequence
from typing import Any

from service.analysis.checks.question import CheckedTrial
from service.analysis.checks.trial_entries import identifier, trial_entry
from service.analysis.histories.cautions import STOP, heard
from service.analysis.histories.question import SettledHistory, settled
from service.analysis.histories.trend import (
    NEEDS_MORE_TRIALS,
    Creep,
    creep,
    first_to_last,
    point_document,
    trend_document,
)
from service.trial.history_question import HistoryQuestion

FORMAT = "design-history/1"
METHOD = "least squares over trial means, the wider of the intervals between and within trials"

__all__ = ["CheckedTrial", "design_history"]


def design_history(question: HistoryQuestion, trials: Sequence[CheckedTrial]) -> dict[str, Any]:
    """The document of a history, without its sentences; the order of the trials does not matter.

    Raises BadInput where the question cannot be asked of them.
    """
    asked = settled(question, trials)
    found, cautions = creep(asked), heard(asked)
    stopped = list(dict.fromkeys(entry["code"] for entry in cautions if entry["severity"] == STOP))
    outcome = NEEDS_MORE_TRIALS if stopped else found.outcome
    return {
        "format": FORMAT,
        "history_id": _history_id(asked),
        "outcome": outcome,
        "statement": None,
        "element": question.element,
        "element_label": _label(asked, question.element),
        "reference": question.reference,
        "reference_label": _label(asked, question.reference),
        "unit": asked.trials[0].facts.trial.meter.unit,
        "margin": asked.margin,
        "margin_from": asked.margin_from,
        "confidence": asked.confidence,
        "confidence_from": asked.confidence_from,
        "points": [point_document(asked, place) for place in range(len(asked.points))],
        "trend": trend_document(found),
        "first_to_last": first_to_last(asked),
        "with_struck": _with_struck(asked),
        "reasons": _reasons(found, stopped) if outcome == NEEDS_MORE_TRIALS else [],
        "rf_channels": {
            "used": list(asked.signals.used),
            "left_out": [
                {"rf_channel": name, "why": why, "trial": place}
                for name, why, place in asked.signals.left_out
            ],
        },
        "trials": [trial_entry(trial) for trial in asked.trials],
        "cautions": cautions,
        "not_seen": [],
        "method": _method(asked),
    }


def _label(asked: SettledHistory, name: str) -> str:
    """As the last trial calls it."""
    return asked.trials[-1].facts.element(name).label


def _with_struck(asked: SettledHistory) -> str | None:
    """The outcome of the trend with struck runs put back; None where nothing is struck."""
    struck = any(trial.facts.put_back is not None for trial in asked.trials)
    return creep(asked, with_struck=True).outcome if struck else None


def _reasons(found: Creep, stopped: Sequence[str]) -> list[dict[str, object]]:
    """Why it cannot be said yet: codes with their evidence."""
    reasons: list[dict[str, object]] = []
    if stopped:
        evidence = {"cautions": list(stopped), "otherwise": found.outcome}
        reasons.append({"code": "stopped", "evidence": evidence})
    if found.outcome == NEEDS_MORE_TRIALS:
        low = trend_document(found)["low"]
        code = "nothing-varies" if low is None else "interval-too-wide"
        reasons.append({"code": code, "evidence": {}})
    return reasons


def _method(asked: SettledHistory) -> dict[str, object]:
    made = asked.trials[0].document["method"]
    return {
        "name": METHOD,
        "decides": "change over the span of the dates",
        "looks": "once",
        "unit": "trial",
        "version": made["version"],
        "versions": made["versions"],
    }


def _history_id(asked: SettledHistory) -> str:
    """From the question and the readings, so that another question makes another document."""
    whole = {
        "element": asked.question.element,
        "reference": asked.question.reference,
        "margin": asked.margin,
        "confidence": asked.confidence,
        "trials": [trial.document["provenance"]["report_id"] for trial in asked.trials],
    }
    return identifier("DH", whole)
