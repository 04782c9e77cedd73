"""Many trials at once come out as each of them does by the rule itself."""

import numpy as np
import pytest

from service.statistics.leader import leader_answer
from service.statistics.results import CLEAR_WINNER, NEEDS_MORE_RUNS, WITHIN_NOISE
from tests.calibration import generators as make
from tests.calibration.many_trials import CLEAR, OPEN, WITHIN, follow
from tests.calibration.rates import COUNTED, by_the_rule, flags, rule, table_errors

CODES = {NEEDS_MORE_RUNS: OPEN, CLEAR_WINNER: CLEAR, WITHIN_NOISE: WITHIN}
ROUNDS = 9
GAPS = np.ones((4, ROUNDS), dtype=bool)
GAPS[0, [1, 4, 7, 8]] = False
GAPS[3, :4] = False
TRIALS = {
    "two": (make.one_ahead(2, 2.0), {"margin": 2.0}, None),
    "two, quiet": (np.zeros(2), {"margin": 2.0, "floor": 1.5}, None),
    "three": (make.one_ahead(3, 2.5), {"margin": 2.5}, None),
    "four, one noisy": (make.tied_on_top(4, 3.0), {"margin": 3.0}, None),
    "eight": (make.one_ahead(8, 2.0), {"margin": 0.5, "alpha": 0.2}, None),
    "four with gaps": (make.one_ahead(4, 3.0), {"margin": 2.5, "alpha": 0.1}, GAPS),
    "two of three with gaps": (make.one_ahead(3, 3.0), {"margin": 2.5}, GAPS[[1, 2, 0]] & (GAPS[[1, 2, 3]])),
    "three, rounded": (make.one_ahead(3, 4.0), {"margin": 1.5, "floor": 0.2}, None),
}


@pytest.mark.parametrize("name", TRIALS)
def test_looks_and_leaders_are_those_of_the_rule(name):
    means, changes, present = TRIALS[name]
    scores = _draw(name, means)
    held = scores if present is None else np.where(present, scores, np.nan)
    fixed = rule(**changes)
    found = list(follow(scores, fixed, present=present))
    assert len(found) >= 5
    decided = 0
    for trial in range(len(scores)):
        looks = by_the_rule(held[trial], fixed)
        for pairs, lead in found:
            table, number = looks.plain(pairs.round), pairs.round
            np.testing.assert_array_equal(pairs.looked, table.looked)
            _same(pairs.low[:, trial], table.low, table.looked)
            _same(pairs.leader_high[:, trial], table.leader_high, table.looked)
            answer = leader_answer(looks, number, np.ones(len(means), dtype=bool))
            assert answer.leader == lead.leader[trial]
            outcome = answer.outcome if answer.is_look else NEEDS_MORE_RUNS
            assert CODES[outcome] == lead.outcome[trial]
            decided += outcome != NEEDS_MORE_RUNS
    assert decided


@pytest.mark.parametrize("name", ["two", "three", "four, one noisy", "four with gaps"])
def test_errors_of_the_pair_table_are_those_of_the_whole_rule(name):
    """Asked of trials that are told a wrong truth, so that errors abound."""
    means, changes, present = TRIALS[name]
    scores, fixed = _draw(name, means)[:12], rule(**changes)
    held = scores if present is None else np.where(present, scores, np.nan)
    told = np.broadcast_to(means + np.linspace(0, 1.5, len(means)), scores.shape[:2])
    mine = dict(zip(COUNTED, flags(scores, told, fixed, present=present), strict=True))
    erred = 0
    for trial in range(len(scores)):
        looks = by_the_rule(held[trial], fixed)
        errors = [_errors(looks.whole(n), told[[trial]], fixed) for n in range(3, ROUNDS + 1)]
        for name_of_error in ("false_calls", "false_within", "ever_missed"):
            ever = any(one[name_of_error][0] for one in errors)
            assert ever == bool(mine[name_of_error][trial])
            erred += ever
    assert erred


def _same(mine, theirs, looked):
    np.testing.assert_allclose(mine[looked], theirs[looked], atol=1e-7)


def _errors(table, truth, fixed):
    return table_errors(table.low[:, None], table.high[:, None], table.looked, truths=truth, fixed=fixed)


def _draw(name, means):
    noise = make.one_noisy if "noisy" in name else make.normal
    scores = noise(means, trials=25, rounds=ROUNDS, seed=len(name))
    return np.round(scores * 2) / 2 if "rounded" in name else scores
