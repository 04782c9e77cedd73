"""Power: the simulated looks are those of the rule, and chances behave as chances do."""

import numpy as np
import pytest
from scipy.stats import norm
from scipy.stats import t as student

from service.statistics import power as module
from service.statistics.judgement import judge
from service.statistics.power import Design, power
from service.statistics.random_streams import Purpose, Stream
from service.statistics.remount_study import TRIALS, detectable_after_remounts
from service.statistics.results import KnownNoise, Rule
from service.statistics.sign_flip import flip_interval
from tests.shared_references import STORE

SOME = 8


def rule(planned=5, **changes):
    given = {"alpha": 0.05, "every_round": True, "margin": 1e-9, "floor": 0.0, "seed": 1}
    return Rule(planned=planned, **{**given, **changes})


def same_trials(design, count):
    """The first trials that the simulation of a design draws: (trials, K, R)."""
    trials = module._trials(design)
    drawn = [
        Stream(3, Purpose.POWER, elements=design.elements, round_number=number).normals(
            trials, design.elements
        )
        for number in range(1, design.rounds + 1)
    ]
    return design.sd * np.stack(drawn, axis=2)[:count]


DESIGNS = {
    "three elements": Design(3, 3, 5, rule()),
    "a twin among four": Design(4, 3, 5, rule()),
    "two elements": Design(2, 2, 6, rule(6)),
    "planned end": Design(4, 4, 5, rule(every_round=False)),
    "a wide margin": Design(3, 3, 6, rule(6, margin=4.0)),  # without it three more are named
    "a coarse meter": Design(3, 3, 5, rule(floor=0.06, margin=0.1), sd=0.3),
    "known noise": Design(4, 4, 4, rule(4), known=KnownNoise(1.0, 9)),
    "known from too little": Design(4, 4, 4, rule(4), known=KnownNoise(1.0, 5)),
}


@pytest.mark.parametrize("name", DESIGNS)
def test_trial_by_trial_the_winner_is_named_where_the_rule_names_it(name):
    design = DESIGNS[name]
    difference = 3.0 * design.sd
    made = power(design, seed=3, store=STORE)
    scores = same_trials(design, SOME)
    scores[:, 0] += difference
    competing = np.arange(design.elements) < design.competing
    few = module.Power(
        design,
        SOME,
        tuple(module._Look(look.round, look.low[:, :SOME], look.high[:, :SOME]) for look in made.looks),
    )
    named = []
    for rounds in (design.rounds - 1, design.rounds):
        found = [
            judge(one[:, :rounds], design.rule, competing=competing, store=STORE, known=design.known)
            for one in scores
        ]
        named.append(sum(one.winner == 0 for one in found))
    assert (SOME * few.chances(difference)[-2:]).tolist() == named
    assert 0 < named[-1] < SOME


def test_a_larger_difference_is_seen_more_often_and_later_rounds_see_more():
    made = power(Design(4, 4, 6, rule(6)), seed=1, store=STORE)
    chances = np.array([made.chances(difference) for difference in (0.0, 1.0, 2.0, 4.0, 8.0)])
    assert (np.diff(chances, axis=0) >= 0).all()
    assert (np.diff(chances, axis=1) >= 0).all()
    assert chances[0, -1] < 0.05
    assert chances[-1, -1] > 0.99
    assert made.first_look == 3


def test_the_detectable_difference_is_named_with_the_chance_and_nothing_less_is():
    made = power(Design(4, 4, 5, rule()), seed=1, store=STORE)
    found = made.detectable(0.8)
    assert made.chances(found)[-1] >= 0.8
    assert made.chances(found * (1 - 1e-6))[-1] < 0.8


def test_it_counts_in_the_unit_of_the_sd():
    one = power(Design(4, 4, 5, rule()), seed=1, store=STORE).detectable(0.8)
    half = power(Design(4, 4, 5, rule(), sd=0.5), seed=1, store=STORE).detectable(0.8)
    assert half == pytest.approx(one / 2, rel=1e-6)


@pytest.mark.parametrize("design", [Design(4, 4, 2, rule(2)), Design(2, 2, 4, rule(4))])
def test_too_few_rounds_name_nothing_however_large_the_difference(design):
    made = power(design, seed=1, store=STORE)
    assert made.first_look is None
    assert made.detectable(0.8) is None
    assert (made.chances(1e6) == 0).all()


def test_a_winner_inside_the_margin_is_not_named():
    made = power(Design(3, 3, 12, rule(12, margin=10.0)), seed=1, store=STORE)
    assert made.chances(3.0)[-1] < 0.01
    assert made.chances(14.0)[-1] > 0.8


def test_subset_ends_are_those_of_the_flip_interval():
    differences = np.random.default_rng(5).normal(size=(7, 6))
    for order in (1, 3):
        low, high = module._subset_ends(differences, order)
        wanted = [flip_interval(row, order, seed=1) for row in differences]
        np.testing.assert_allclose(np.array([low, high]).T, wanted, atol=1e-12)


def test_two_elements_beyond_the_listed_rounds_hardly_differ_from_listed_ones(monkeypatch):
    design = Design(2, 2, 12, rule(12))
    listed = power(design, seed=1, store=STORE).chances(1.5)
    monkeypatch.setattr(module, "_LISTED_UP_TO", 0)
    by_t = power(design, seed=1, store=STORE).chances(1.5)
    assert by_t[9:] == pytest.approx(listed[9:], abs=0.05)


def test_remounts_and_one_scan_of_two_are_a_t_test_with_the_allowance():
    """Two elements, one scan each: P(d + sqrt 2 z > t 1.25 s sqrt 2), z and s from scipy's own draws."""
    found = detectable_after_remounts(Design(2, 2, 1, rule()), remounts=10, rounds=1, chance=0.8, seed=1)
    rng = np.random.default_rng(11)
    s = np.sqrt(rng.chisquare(9, 400_000) / 9)
    z = norm.ppf(rng.uniform(size=400_000))
    reach = student.ppf(1 - 0.0125, 9) * 1.25 * s * np.sqrt(2)
    assert np.mean(found + np.sqrt(2) * z > reach) == pytest.approx(0.8, abs=4 * np.sqrt(0.16 / TRIALS))


def test_a_second_round_after_remounts_detects_less_still():
    one, two = (
        detectable_after_remounts(Design(5, 5, 1, rule()), remounts=10, rounds=rounds, chance=0.8, seed=1)
        for rounds in (1, 2)
    )
    assert two < 0.8 * one


def test_a_meter_far_coarser_than_the_noise_still_has_a_difference_that_is_detected():
    made = power(Design(3, 3, 5, rule(floor=0.04), sd=1e-8), seed=1, store=STORE)
    assert 0.2 < made.detectable(0.8) < 2.0
