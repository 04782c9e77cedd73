"""Rounds still needed, predicted and actual: as many are decided in time as is said, at the least."""

import pytest
from scipy.stats import binom

from tests.calibration import rounds_needed
from tests.calibration.rounds_needed import COURSES, HEAD, Course, predictions, share_decided

HALF, SAFE = 0.5, 0.8
ASKED_ANEW = 2  # another seed than the committed table


def in_time(found):
    """Whether at least half were decided by the predicted round and four fifths by the safe one, each asking.

    At the 99.9 % binomial bound.
    """
    for one in found:
        for predicted, promised in ((one.half, HALF), (one.safe, SAFE)):
            decided, told = share_decided(one, predicted)
            yield told == 0 or decided >= binom.ppf(0.001, told, promised)


@pytest.mark.parametrize("course", [Course(2, 3.0, 0.5), Course(3, None, 0.5), Course(4, 0.0, 3.0)])
def test_a_slice_is_decided_in_time(course):
    found = predictions(course, 40, seed=ASKED_ANEW)
    assert [one.asked for one in found] == list(rounds_needed.ASKED)
    assert sum(share_decided(one, one.half)[1] for one in found) >= 40
    assert all(in_time(found))


@pytest.mark.calibration
@pytest.mark.parametrize("course", COURSES)
def test_every_course_is_decided_in_time(course):
    assert all(in_time(predictions(course, 200, seed=ASKED_ANEW)))


def test_the_committed_table_keeps_what_it_says():
    """Shares of 300 trials at most: 0.09 below is what chance allows of one half, 0.08 of four fifths."""
    kept = rounds_needed.TABLE.read_text(encoding="utf-8")
    trials = 300
    assert kept.startswith(HEAD.format(trials=trials, command=rounds_needed.COMMAND.format(trials=trials)))
    rows = [line.split(" | ") for line in kept.splitlines() if line.startswith("| ") and "gap" not in line][
        -30:
    ]
    assert [int(row[0].strip("| ")) for row in rows] == [course.elements for course in COURSES for _ in "345"]
    for row in rows:
        assert float(row[8]) >= HALF - 0.09
        assert float(row[9]) >= SAFE - 0.08


def test_a_prediction_beyond_the_rounds_simulated_is_not_counted():
    one = predictions(Course(2, 3.0, 0.5), 10, seed=1)[0]
    beyond = one.half * 0 + one.followed + 1
    assert share_decided(one, beyond) == (0, 0)
    assert share_decided(one, beyond * 0 - 1) == (0, 0)
    assert share_decided(one, beyond - 1)[1] == 10
