"""The power that a plan promises is what simulation of the whole procedure gives."""

import pytest

from tests.calibration.plan_power import COMMAND, COURSES, HEAD, TABLE, WITHIN, measured, predicted

ANEW = 2  # another seed than the committed table
BEYOND = 3.5  # standard errors that chance may add to the five points in a short measurement


@pytest.mark.parametrize("course", [COURSES[2], COURSES[8]], ids=lambda course: course.name)
def test_a_slice_comes_out_as_predicted(course):
    trials, promised = 60, predicted(course)
    room = WITHIN + BEYOND * (promised * (1 - promised) / trials) ** 0.5
    assert measured(course, trials, seed=ANEW) == pytest.approx(promised, abs=room)
    assert 0.3 < promised < 0.95


@pytest.mark.calibration
@pytest.mark.parametrize("course", COURSES, ids=lambda course: course.name)
def test_every_course_comes_out_as_predicted(course):
    assert measured(course, 1000, seed=ANEW) == pytest.approx(predicted(course), abs=WITHIN)


def test_the_committed_table_keeps_what_it_says():
    kept = TABLE.read_text(encoding="utf-8")
    trials = 1000
    assert kept.startswith(HEAD.format(trials=trials, command=COMMAND.format(trials=trials)))
    rows = [line.strip("| ").split(" | ") for line in kept.splitlines()[-len(COURSES) :]]
    assert [row[0] for row in rows] == [course.name for course in COURSES]
    for row in rows:
        promised, came = float(row[5]), float(row[6])
        assert abs(promised - came) <= WITHIN
        assert float(row[7]) == pytest.approx(abs(promised - came), abs=0.0011)
        assert 0.3 < came < 0.97
