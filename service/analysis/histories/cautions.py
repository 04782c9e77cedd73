"""The cautions of the trials as far as they bear on a history, and those of the history itself."""

from collections.abc import Iterator, Mapping
from typing import Any, Final

from service.analysis.cautions.caution import Caution
from service.analysis.checks.bearing import ABOUT_THE_VERDICT, SAFETY, bears
from service.analysis.checks.signals import to_reference
from service.analysis.histories.question import SettledHistory
from service.analysis.histories.trend import floors
from service.statistics.trend_over_trials import FEWEST_ROUNDS, trend_over_trials

MOVED_LEVEL = 0.01  # of a shared element that seems to creep as well, over all of them, both ways
STOP: Final = "stop"

Entry = dict[str, Any]


def heard(asked: SettledHistory) -> list[Entry]:
    """Every caution that bears on the history, with the place of its trial (None: it belongs to the history).

    A stop of a trial is told only where it touches the pair of element and reference; then it stops the
    history.
    """
    told = [entry for entry in _of_trials(asked) if entry["severity"] != STOP or _touches(asked, entry)]
    moved = reference_creeps(asked)
    return told if moved is None else [*told, moved.document() | {"trial": None}]


def _of_trials(asked: SettledHistory) -> Iterator[Entry]:
    judged = {asked.question.element, asked.question.reference}
    for place, trial in enumerate(asked.trials):
        for entry in trial.document["cautions"]:
            code = entry["code"]
            said = place > 0 and code == SAFETY
            if not said and code not in ABOUT_THE_VERDICT and bears(entry, judged):
                yield entry | {"trial": place}


def _touches(asked: SettledHistory, entry: Mapping[str, Any]) -> bool:
    pair = {asked.question.element, asked.question.reference}
    return any(set(touched) == pair for touched in entry["evidence"].get("pairs_touched", ()))


def reference_creeps(asked: SettledHistory) -> Caution | None:
    """Raised where another element that all trials hold has a trend against the reference too.

    Then it may be the reference that creeps, or both others; which of them cannot be told, so the history is
    stopped. Several such elements share the level.
    """
    question, last = asked.question, float(asked.days[-1])
    judged = (question.element, question.reference)
    shared = [
        name
        for name in asked.trials[0].facts.ids
        if name not in judged and all(name in trial.facts.ids for trial in asked.trials)
    ]
    moved = []
    for name in shared:
        rounds = [
            to_reference(trial, name, reference=question.reference, signals=asked.signals)
            for trial in asked.trials
        ]
        if min(len(one) for one in rounds) < FEWEST_ROUNDS:
            continue
        level = 1.0 - MOVED_LEVEL / len(shared)
        found = trend_over_trials(asked.days, rounds, level=level, floors=floors(asked))
        if found is not None and (found.low > 0.0 or found.high < 0.0):
            ends = {"moved": found.slope * last, "low": found.low * last, "high": found.high * last}
            moved.append({"element": name} | ends)
    if not moved:
        return None
    evidence = {
        "reference": question.reference,
        "level": 1.0 - MOVED_LEVEL,
        "shared": shared,
        "elements": moved,
    }
    return Caution("reference-changed", STOP, evidence)
