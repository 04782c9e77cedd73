"""What to put on next: the rest of a round that was begun, else a new one, in the order of the plan."""

import pytest

from service.jobs.kept_batches import NewBatch
from service.jobs.kept_readings import KeptReadings, Place
from service.jobs.kept_trials import KeptTrials
from service.jobs.next_runs import next_runs
from service.jobs.runners import Here
from service.settings import Limits
from service.storage import open_database
from service.trial.run_order import run_order

OWNER = "somebody"
LIMITS = Limits()
NAMES = ("rod", "tube", "wire")
TRIAL = {
    "meter": {"unit": "bars", "highest": 10},
    "planned_rounds": 6,
    "elements": [{"id": name, "label": name.title()} for name in NAMES],
}


@pytest.fixture
def trials(tmp_path):
    database = open_database(f"sqlite:///{tmp_path}/kept.sqlite3")
    yield KeptTrials(database, LIMITS), KeptReadings(database, Here(), LIMITS)
    database.close()


def order_of(number: int, *, rounds: int = 6) -> tuple[str, ...]:
    return tuple(NAMES[index] for index in run_order(3, rounds, 1)[number - 1])


def coming(trials, runs=(), document=TRIAL, change=None):
    """The runs to come once these (element, round) were sent."""
    kept, readings = trials
    trial_id = kept.create(OWNER, document).document["id"]
    if runs:
        rows = [f"{element},{number},{channel},5" for element, number in runs for channel in ("Quay", "Pier")]
        body = "\n".join(["element,round,channel,value", *rows]).encode()
        readings.add(Place(OWNER, trial_id), NewBatch(body, "text/csv"))
    if change is not None:
        kept.change(OWNER, trial_id, change)
    return next_runs(kept.material(OWNER, trial_id), LIMITS)


def whole(*numbers: int) -> list[tuple[str, int]]:
    return [(name, number) for number in numbers for name in NAMES]


def test_a_trial_without_readings_begins_with_the_first_round_of_its_plan(trials):
    found = coming(trials)
    assert (found.round_number, found.runs, found.rounds_done) == (1, order_of(1), 0)
    assert found.labels == {"rod": "Rod", "tube": "Tube", "wire": "Wire"}
    assert (found.look.rounds, found.look.spent_before) == (3, 0.0)
    assert found.look.spent_by_then == pytest.approx(0.05 * 0.8 * (3 / 6) ** 2)  # the rule in DEVELOPERS.md


def test_a_round_that_was_begun_is_gone_on_with_in_its_order(trials):
    first, *rest = order_of(2)
    found = coming(trials, [*whole(1), (first, 2)])
    assert (found.round_number, found.runs, found.order) == (2, tuple(rest), order_of(2))
    assert found.rounds_done == 1


def test_after_a_whole_round_the_next_one_comes(trials):
    found = coming(trials, whole(1, 2, 3))
    assert (found.round_number, found.runs) == (4, order_of(4))
    assert found.look.rounds == 4
    assert found.look.spent_before == pytest.approx(0.05 * 0.8 * (3 / 6) ** 2)


def test_beyond_the_plan_it_goes_on(trials):
    found = coming(trials, whole(*range(1, 7)))
    assert (found.round_number, found.runs) == (7, order_of(7, rounds=7))


def test_a_gap_in_an_earlier_round_is_told_beside(trials):
    found = coming(trials, [("rod", 1), ("tube", 1), *whole(2)])
    assert (found.round_number, found.also_missing) == (3, (("wire", 1),))


def test_a_struck_run_is_not_asked_for_again(trials):
    strike = {"element": "rod", "round": 2, "reason": "mast turned"}
    found = coming(trials, whole(1, 2), change={"struck": [strike], "reason": "mast turned"})
    assert (found.round_number, found.also_missing, found.rounds_done) == (3, (), 1)


def test_a_trial_that_names_nothing_has_nothing_to_put_on(trials):
    found = coming(trials, document={"meter": {"unit": "dB"}})
    assert (found.runs, found.order) == ((), ())


def test_a_known_repeatability_has_spent_half(trials):
    known = {"sd": 0.3, "degrees_of_freedom": 9, "rf_channels": ["Quay", "Pier"], "from": "ten remounts"}
    found = coming(trials, whole(1), document=TRIAL | {"known_repeatability": known})
    assert found.look.allowed == pytest.approx(0.025)


def test_with_looks_at_the_planned_end_the_next_look_is_there(trials):
    found = coming(trials, whole(1), document=TRIAL | {"looks": "planned end"})
    assert (found.look.rounds, found.look.spent_by_then) == (6, pytest.approx(0.05))
