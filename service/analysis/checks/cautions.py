"""The cautions of the trials as far as they bear on a check, and those of the check itself."""

from collections.abc import Iterator, Mapping
from typing import Any

from service.analysis.cautions.caution import Caution
from service.analysis.checks.across import reference_changed
from service.analysis.checks.baseline_age import baseline_old
from service.analysis.checks.bearing import ABOUT_THE_VERDICT, SAFETY, bears
from service.analysis.checks.finding import SIGN_FLIP, Finding
from service.analysis.checks.question import Design, Settled
from service.analysis.checks.signals import Signals

Entry = dict[str, Any]


def heard(
    asked: Settled, findings: tuple[Finding, ...], signals: Signals
) -> tuple[tuple[Finding, ...], list[Entry]]:
    """The findings, stopped where a caution stops them, and every caution that bears on the check.

    Each caution tells the place of its trial in `trial` (None: it belongs to the check) and, where it stops
    candidates, which in `candidates`.
    """
    told: list[Entry] = []
    stopped: dict[int, list[str]] = {place: [] for place in range(len(findings))}
    for entry, places in _all(asked, findings, signals):
        if entry["severity"] == "stop" and not places:
            continue
        for place in places:
            stopped[place].append(entry["code"])
        names = [asked.question.candidates[place].name for place in places]
        told.append(entry | {"candidates": names})
    heeded = tuple(one.stopped(tuple(dict.fromkeys(stopped[at]))) for at, one in enumerate(findings))
    return heeded, told


def _all(
    asked: Settled, findings: tuple[Finding, ...], signals: Signals
) -> Iterator[tuple[Entry, list[int]]]:
    """Each caution with the places of the candidates that it stops."""
    used = sorted({asked.question.baseline.trial, *(design.trial for design in asked.question.candidates)})
    for place in used:
        for entry in asked.trials[place].document["cautions"]:
            said = place != used[0] and entry["code"] == SAFETY
            if not said and entry["code"] not in ABOUT_THE_VERDICT and bears(entry, _judged(asked, place)):
                yield entry | {"trial": place}, _stopped(asked, entry, place)
    if asked.across:
        yield from _between_trials(asked, signals, used)
    unplanned = _unplanned_looks(asked, findings)
    if unplanned is not None:
        yield unplanned.document() | {"trial": None}, []


def _between_trials(asked: Settled, signals: Signals, used: list[int]) -> Iterator[tuple[Entry, list[int]]]:
    """What may have happened between the baseline's trial and each other."""
    for place in used:
        if place == asked.question.baseline.trial:
            continue
        moved, old = reference_changed(asked, signals, place), baseline_old(asked, place)
        if moved is not None:
            at = [at for at, design in enumerate(asked.question.candidates) if design.trial == place]
            yield moved.document() | {"trial": place}, at
        if old is not None:
            yield old.document() | {"trial": place}, []


def _unplanned_looks(asked: Settled, findings: tuple[Finding, ...]) -> Caution | None:
    """What is asked once is promised for one look; asked at another round than planned it may be a repeat."""
    for design, found in zip(asked.question.candidates, findings, strict=True):
        facts = asked.trial_of(design).facts
        planned = facts.trial.planned_rounds
        if found.method != SIGN_FLIP and facts.rounds_done != planned:
            evidence = {"planned_rounds": planned, "rounds_done": facts.rounds_done, "promise": None}
            return Caution("unplanned-looks", "note", evidence)
    return None


def _judged(asked: Settled, place: int) -> set[str]:
    """The elements of a trial that the check rests on."""
    designs = (asked.question.baseline, *asked.question.candidates)
    names = {name for design in designs if design.trial == place for name in design.samples}
    return names if asked.reference is None else names | {asked.reference}


def _stopped(asked: Settled, entry: Mapping[str, Any], place: int) -> list[int]:
    """The candidates that a stop of the trial at `place` touches; none for another caution."""
    touched = {frozenset(pair) for pair in entry["evidence"].get("pairs_touched", ())}
    return [
        at
        for at, design in enumerate(asked.question.candidates)
        if entry["severity"] == "stop" and touched & _pairs(asked, design, place)
    ]


def _pairs(asked: Settled, candidate: Design, place: int) -> set[frozenset[str]]:
    """The pairs of a trial that a candidate is judged by: against the baseline, or each to the reference."""
    baseline = asked.question.baseline
    if asked.reference is None:
        return {frozenset((name, baseline.samples[0])) for name in candidate.samples}
    ends = [design for design in (baseline, candidate) if design.trial == place]
    return {frozenset((name, asked.reference)) for design in ends for name in design.samples}
