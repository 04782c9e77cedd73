"""The rule that decides and its plain second implementation, made independently, give the same numbers."""

import numpy as np
import pytest

from service.statistics.judgement import judge
from service.statistics.results import KnownNoise, Repeats, Rule
from tests.reference_judgement import plain_judgement
from tests.shared_references import STORE

PAIR_NUMBERS = ("difference", "low", "high", "p_value", "adjusted_p")
LOOK_NUMBERS = {
    "spent": "spent",
    "level": "level",
    "critical": "critical",
    "leader_critical": "leader",
    "order": "order",
}


def trial(elements, rounds, *, seed, sd=0.3, ahead=0.6, missing=0, step=None):
    rng = np.random.default_rng(seed)
    scores = rng.normal(size=(elements, rounds)) * sd + rng.normal(size=rounds)
    scores[rng.integers(elements)] += ahead
    if step:
        scores = np.round(scores / step) * step
    for _ in range(missing):
        scores[rng.integers(elements), rng.integers(rounds)] = np.nan
    return scores


def two_of_three(rounds, runs):
    scores = trial(3, rounds, seed=23)
    scores[2, runs:] = np.nan
    return scores


def mounted(times, *, seed):
    """Scores of runs of several mountings each, times (K, R), and the mountings as either takes them."""
    times = np.array(times)
    element, number = (np.repeat(place.ravel(), times.ravel()) for place in np.indices(times.shape))
    single = np.random.default_rng(seed).normal(scale=0.2, size=len(element)) + 1.5 * (element == 0) + number
    run = element * times.shape[1] + number
    scores = np.bincount(run, single) / times.ravel()
    squares = np.bincount(run, (single - scores[run]) ** 2).reshape(times.shape)
    return scores.reshape(times.shape), {"repeats": (Repeats(element, number, single), (times, squares))}


def both(scores, **changes):
    plan = {
        "planned": 6,
        "alpha": 0.05,
        "every_round": True,
        "margin": 0.5,
        "floor": 0.0,
        "seed": 1,
    } | changes
    known, (singly, by_run) = plan.pop("known", None), plan.pop("repeats", (None, None))
    competing = np.array(plan.pop("competing", [True] * len(scores)))
    noise = known and KnownNoise(*known)
    fast = judge(scores, Rule(**plan), competing=competing, store=STORE, known=noise, repeats=singly)
    plain = plain_judgement.judge(scores, **plan, competing=competing, known=known, repeats=by_run)
    return fast, plain


def same(one, other):
    if one is None or other is None:
        assert one is None, (one, other)
        assert other is None, (one, other)
    else:
        assert one == pytest.approx(other, rel=1e-9, abs=1e-9)


def assert_agree(fast, plain):
    assert (fast.outcome, fast.winner, fast.decided_at) == (
        plain["outcome"],
        plain["winner"],
        plain["decided_at"],
    )
    assert fast.leader == plain["leader"]
    for mine, theirs in zip(fast.pairs, plain["pairs"], strict=True):
        assert (mine.first, mine.second) == (theirs["first"], theirs["second"])
        for name in PAIR_NUMBERS:
            same(getattr(mine, name), theirs[name])
        same(mine.standard_error, None if by_sign_flips(fast) else theirs["se"])
        assert (mine.outcome, mine.winner, mine.decided_at) == (
            theirs["outcome"],
            theirs["winner"],
            theirs["decided_at"],
        )
    for mine, theirs in zip(fast.against, plain["against"], strict=True):
        assert (mine.element, mine.outcome) == (theirs["element"], theirs["outcome"])
        for name in ("difference", "low", "high"):
            same(getattr(mine, name), theirs[name])
    looks = [look for look in fast.schedule if look.order != 0]  # at level 0 nothing can be decided
    for mine, theirs in zip(looks, plain["schedule"], strict=True):
        assert mine.round == theirs["round"]
        for name, other in LOOK_NUMBERS.items():
            same(getattr(mine, name), theirs[other])


def by_sign_flips(fast):
    """Two elements are judged without a standard error, unless a known noise gives one."""
    return fast.judged.sum() == 2 and fast.design != "one round, known noise"


CASES = {
    "three elements": (trial(3, 6, seed=1), {}),
    "three elements, few rounds": (trial(3, 4, seed=2), {}),
    "four elements, beyond the plan": (trial(4, 8, seed=3), {}),
    "five elements, at 0.90": (trial(5, 6, seed=4), {"alpha": 0.10}),
    "eight elements": (trial(8, 6, seed=5, ahead=1.2), {}),
    "eight elements, two rounds": (trial(8, 2, seed=31), {}),
    "eight elements, wide margin": (trial(8, 7, seed=6, ahead=0.1), {"margin": 2.0}),
    "coarse meter": (trial(4, 6, seed=7, step=0.25), {"floor": 0.25**2 / 6}),
    "quiet coarse meter": (trial(3, 6, seed=8, sd=0.01, step=0.5), {"floor": 0.5**2 / 6}),
    "two elements": (trial(2, 8, seed=9), {}),
    "two elements, long": (trial(2, 19, seed=10, ahead=0.2), {"margin": 0.3, "seed": 77}),
    "two elements, two rounds": (trial(2, 2, seed=28), {}),
    "two elements, quiet meter": (trial(2, 7, seed=11, sd=0.01, step=0.5), {"floor": 0.5**2 / 6}),
    "two of three are judged": (two_of_three(7, 2), {}),
    "one of three is still to come": (two_of_three(2, 0), {}),
    "planned end": (trial(4, 6, seed=12), {"every_round": False}),
    "planned end passed": (trial(4, 8, seed=13), {"every_round": False}),
    "planned end passed, two elements": (trial(2, 9, seed=14), {"every_round": False}),
    "before the planned end": (trial(3, 5, seed=15), {"every_round": False}),
    "incomplete": (trial(4, 7, seed=16, missing=3), {}),
    "incomplete, eight elements": (trial(8, 6, seed=17, missing=6), {}),
    "a round that none of the fitted holds": (
        np.array(
            [
                [0.8, 0.1, 0.4, 0.9, 0.2, np.nan],
                [0.4, 0.3, 0.2, 0.5, 0.1, np.nan],
                [0.1, 0.4, 0.2, 0.3, 0.4, np.nan],
                [0.9, 0.2, np.nan, np.nan, np.nan, 0.7],
            ]
        ),
        {},
    ),
    "one as good as the winner comes late": (
        np.array(
            [
                [9.1, 9.0, 8.9, 9.1, 9.0],
                [5.0, 5.1, 5.1, 5.0, 4.9],
                [5.1, 4.9, 5.0, 5.0, 5.1],
                [np.nan, 9.1, 9.0, 8.9, 9.1],
            ]
        ),
        {"margin": 0.05},
    ),
    "a control that does not compete": (trial(4, 6, seed=18), {"competing": [True, True, False, True]}),
    "another seed": (trial(4, 6, seed=19), {"seed": 77}),
    "all equal": (np.full((3, 6), 5.0), {"floor": 1.0 / 60}),
    "known noise": (trial(4, 1, seed=20, ahead=3.0), {"known": (0.3, 12.0)}),
    "known noise, two rounds": (trial(3, 2, seed=21, ahead=2.0), {"known": (0.3, 12.0)}),
    "known noise, then rounds": (trial(3, 5, seed=22), {"known": (0.3, 12.0)}),
    "known noise of two elements": (trial(2, 1, seed=24, ahead=3.0), {"known": (0.3, 12.0)}),
    "mounted again in one round": mounted([[5], [4], [4]], seed=25),
    "mounted again in two rounds": mounted([[5, 1], [4, 2], [1, 3]], seed=26),
    "mounted again too seldom": mounted([[2, 2, 1, 1], [1, 1, 2, 4], [2, 1, 5, 1]], seed=29),
    "mounted again often enough in two rounds": mounted([[4, 3, 1, 1], [3, 2, 1, 1], [2, 2, 1, 1]], seed=30),
    "mounted again, then rounds": mounted([[4, 2, 1, 1], [5, 1, 1, 1], [4, 2, 1, 3]], seed=27),
}


@pytest.mark.parametrize("case", CASES)
def test_both_implementations_agree(case):
    scores, changes = CASES[case]
    assert_agree(*both(scores, **changes))


def test_both_agree_on_an_exactly_additive_table():
    scores = np.add.outer([2.9, 8.9, 2.9, 7.1], [7.8, 3.5, 3.9, 3.4])
    fast, plain = both(scores)
    assert_agree(fast, plain)
    assert sorted(pair.adjusted_p for pair in fast.pairs) == [1 / 20_000] * 5 + [1.0]
