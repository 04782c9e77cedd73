"""Candidates and a baseline of different trials, joined by the reference that both hold."""

from service.analysis.cautions.caution import Caution
from service.analysis.checks.finding import BANERJEE, WELCH, Finding
from service.analysis.checks.question import Design, Settled
from service.analysis.checks.signals import Signals, rounding_variance, to_reference
from service.analysis.checks.within import check_rule
from service.statistics.non_inferiority import PairedCheck
from service.statistics.results import NEEDS_MORE_RUNS, Floats
from service.statistics.rounds_to_check import rounds_through_reference
from service.statistics.welch_checks import LimitsAt, welch_checks
from service.statistics.welch_limits import is_few, joined_by_reference

MOVED_LEVEL = 0.01  # of a shared element that seems to have moved, over all of them, both ways


def across_trials(asked: Settled, signals: Signals) -> tuple[Finding, ...]:
    """One finding a candidate: (candidate - reference) now less (baseline - reference) then."""
    struck = any(trial.facts.put_back is not None for trial in asked.trials)
    found = _checks(asked, signals, with_struck=False)
    again = [check.outcome for check in _checks(asked, signals, with_struck=True)] if struck else None
    then = _then(asked, signals)
    return tuple(
        Finding(
            check=check,
            method=BANERJEE if is_few(check.rounds, len(then)) else WELCH,
            baseline_rounds=len(then),
            more_rounds=_more_rounds(asked, design, check, signals=signals),
            with_struck=again[place] if again else None,
        )
        for place, (design, check) in enumerate(zip(asked.question.candidates, found, strict=True))
    )


def _checks(asked: Settled, signals: Signals, *, with_struck: bool) -> tuple[PairedCheck, ...]:
    then = _then(asked, signals, with_struck=with_struck)
    candidates = [
        _limits(asked, design, then, signals=signals, with_struck=with_struck)
        for design in asked.question.candidates
    ]
    rounds = [len(_now(asked, d, signals, with_struck=with_struck)) for d in asked.question.candidates]
    return welch_checks(candidates, margin=asked.margin, alpha=asked.alpha, rounds=rounds)


def _limits(asked: Settled, design: Design, then: Floats, *, signals: Signals, with_struck: bool) -> LimitsAt:
    now = _now(asked, design, signals, with_struck=with_struck)
    floors = _floors(asked, design, signals)
    return lambda alpha: joined_by_reference(now, then, alpha, floors=floors)


def _floors(asked: Settled, design: Design, signals: Signals) -> tuple[float, float]:
    """What rounding leaves in the differences of the candidate's trial, and of the baseline's."""
    now, then = asked.trial_of(design), asked.trial_of(asked.question.baseline)
    return rounding_variance(now, signals), rounding_variance(then, signals)


def _now(asked: Settled, design: Design, signals: Signals, *, with_struck: bool = False) -> Floats:
    reference = str(asked.reference)
    trial = asked.trial_of(design)
    return to_reference(
        trial, design.samples[0], reference=reference, signals=signals, with_struck=with_struck
    )


def _then(asked: Settled, signals: Signals, *, with_struck: bool = False) -> Floats:
    return _now(asked, asked.question.baseline, signals, with_struck=with_struck)


def _more_rounds(asked: Settled, design: Design, check: PairedCheck, *, signals: Signals) -> int | None:
    if check.outcome != NEEDS_MORE_RUNS:
        return 0
    rule = check_rule(asked, asked.trial_of(design).facts, alpha=asked.share)
    floors = _floors(asked, design, signals)
    return rounds_through_reference(_now(asked, design, signals), _then(asked, signals), rule, floors=floors)


def reference_changed(asked: Settled, signals: Signals, place: int) -> Caution | None:
    """Raised where an element that both trials hold moved against the reference by more than chance.

    Of the baseline's trial and that at `place`. The candidates are left out: whether they changed is the
    question. Several shared elements share the level. Which of the two moved, the reference or the other,
    cannot be told, so everything that is joined by the reference is touched.
    """
    trials = asked.trials[asked.question.baseline.trial], asked.trials[place]
    reference = str(asked.reference)
    judged = {reference, *(name for design in asked.question.candidates for name in design.samples)}
    shared = [name for name in trials[0].facts.ids if name in trials[1].facts.ids and name not in judged]
    floors = (rounding_variance(trials[1], signals), rounding_variance(trials[0], signals))
    moved = []
    for name in shared:
        then, now = (to_reference(trial, name, reference=reference, signals=signals) for trial in trials)
        limits = joined_by_reference(now, then, MOVED_LEVEL / (2 * len(shared)), floors=floors)
        if limits is not None and (limits.low > 0.0 or limits.high < 0.0):
            moved.append(
                {"element": name, "moved": limits.difference, "low": limits.low, "high": limits.high}
            )
    if not moved:
        return None
    evidence = {"reference": reference, "level": 1.0 - MOVED_LEVEL, "shared": shared, "elements": moved}
    return Caution("reference-changed", "stop", evidence)
