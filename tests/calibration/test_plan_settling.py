"""The chance that a plan gives the rounds to come is what the whole procedure makes of them."""

import pytest

from tests.calibration.plan_settling import COMMAND, COURSES, HEAD, TABLE, WITHIN, measured, predicted

ANEW = 2  # another seed than the committed table
BEYOND = 3.5  # standard errors that chance may add in a short measurement
TRIALS = 1000


@pytest.mark.parametrize("course", [COURSES[1], COURSES[4]], ids=lambda course: course.name)
def test_a_slice_comes_out_as_predicted(course):
    trials, promised = 60, predicted(course)
    room = WITHIN + BEYOND * (promised * (1 - promised) / trials) ** 0.5
    assert measured(course, trials, seed=ANEW) == pytest.approx(promised, abs=room)


@pytest.mark.calibration
@pytest.mark.parametrize("course", COURSES, ids=lambda course: course.name)
def test_every_course_comes_out_as_predicted(course):
    assert measured(course, TRIALS, seed=ANEW) == pytest.approx(predicted(course), abs=WITHIN)


def test_the_committed_table_keeps_what_it_says():
    kept = TABLE.read_text(encoding="utf-8")
    assert kept.startswith(HEAD.format(trials=TRIALS, command=COMMAND.format(trials=TRIALS)))
    rows = [line.strip("| ").split(" | ") for line in kept.splitlines()[-len(COURSES) :]]
    assert [row[0] for row in rows] == [course.name for course in COURSES]
    for row in rows:
        promised, came = float(row[4]), float(row[5])
        assert abs(promised - came) <= WITHIN
        assert float(row[6]) == pytest.approx(abs(promised - came), abs=0.0011)
        assert 0.2 < came < 0.98
