"""What an analysis gets of a kept trial: all batches as one table, whatever batches they came in."""

import numpy as np
import pytest

from service.analysis import analyse
from service.intake.batch import read_batch
from service.intake.marks import Marks
from service.jobs.kept_batches import NewBatch
from service.jobs.kept_readings import KeptReadings, Place
from service.jobs.kept_trials import KeptTrials
from service.jobs.runners import Here
from service.settings import Limits
from service.statistics.bell_reference import MemoryStore
from service.storage import open_database

LIMITS = Limits()
DOCUMENT = {
    "meter": {"unit": "dB", "resolution": 0.1}, "margin": 1.0, "reference": "rod",
    "elements": [{"id": "rod"}, {"id": "wire"}], "planned_rounds": 6,
}  # fmt: skip
LEVELS = {"rod": 20.0, "wire": 17.0, "tube": 23.0}


@pytest.fixture(scope="module")
def desks(tmp_path_factory):
    database = open_database(f"sqlite:///{tmp_path_factory.mktemp('kept') / 'kept.sqlite3'}")
    yield KeptTrials(database, LIMITS), KeptReadings(database, Here(), LIMITS)
    database.close()


def table(elements, rounds, *, shift: float = 0.0) -> bytes:
    """Invented levels: each element its own, each round its own step, and a little noise."""
    lines = ["element,round,channel,value"]
    for number in rounds:
        noise = np.random.default_rng(number).normal(0, 0.2, 9).round(1)
        for place, element in enumerate(elements):
            level = LEVELS[element] + shift + number % 3
            lines += [f"{element},{number},{c},{level + noise[3 * place + c]:.1f}" for c in range(3)]
    return "\n".join(lines).encode()


def kept(desks, *batches, document=None):
    trials, readings = desks
    place = Place("o", trials.create("o", document or DOCUMENT).document["id"])
    for body, corrects in batches:
        readings.add(place, NewBatch(body, "text/csv", corrects=corrects))
    return trials, readings, place


def verdict_of(trial, readings):
    return analyse(trial, readings, store=MemoryStore())


def test_batches_give_the_verdict_of_the_same_readings_at_once(desks):
    """Whatever batches they come in, and though one had to be corrected and one taken back."""
    trials, readings, place = kept(
        desks,
        (table(["rod", "wire"], (1, 2)), None),
        (table(["rod", "wire"], (5, 6)), None),
        (table(["rod", "wire"], (3, 4), shift=2.0), None),
        (table(["rod", "wire"], (3, 4)), "read from the wrong sheet"),
        (table(["rod", "wire"], (7,)), None),
    )
    readings.withdraw(place, 5, "a gust")
    material = trials.material("o", place.trial_id)
    together = verdict_of(*material.trial_and_readings(LIMITS))
    body = table(["rod", "wire"], range(1, 7))
    once = verdict_of(*read_batch(body, "text/csv", trial=DOCUMENT, marks=Marks(), limits=LIMITS))
    for part in ("verdict", "elements", "pairs", "channels"):
        assert together[part] == once[part]
    assert together["provenance"]["readings_sha256"] == once["provenance"]["readings_sha256"]


def test_an_element_added_later_is_joined_through_the_reference(desks):
    """It shares no round with the wire, yet is compared with it, by the rule of incomplete rounds."""
    trials, _, place = kept(
        desks, (table(["rod", "wire"], range(1, 7)), None), (table(["rod", "tube"], range(7, 13)), None)
    )
    elements = [*DOCUMENT["elements"], {"id": "tube", "label": "Brass tube"}]
    assert trials.change("o", place.trial_id, {"elements": elements}).document["elements"] == elements
    document = verdict_of(*trials.material("o", place.trial_id).trial_and_readings(LIMITS))
    assert document["method"]["design"] == "incomplete rounds"
    assert [element["label"] for element in document["elements"]] == ["rod", "wire", "Brass tube"]
    (joined,) = (p for p in document["pairs"] if {p["first"], p["second"]} == {"wire", "tube"})
    assert joined["difference"] == pytest.approx(-6, abs=0.5)
    assert joined["interval"]["low"] < -6 + 0.5
    assert joined["outcome"] == "clear winner"
    assert document["verdict"]["winner"] == "tube"


def test_an_element_that_only_the_readings_name_belongs_to_the_trial(desks):
    trials, _, place = kept(desks, (table(["rod", "wire", "tube"], (1, 2)), None))
    trial, _ = trials.material("o", place.trial_id).trial_and_readings(LIMITS)
    assert [element.id for element in trial.elements] == ["rod", "wire", "tube"]


def test_material_is_of_one_version_and_may_be_of_an_earlier_batch(desks):
    trials, readings, place = kept(desks, (table(["rod", "wire"], (1,)), None), (table(["rod"], (2,)), None))
    readings.withdraw(place, 1, "wrong mast")
    now, then = trials.material("o", place.trial_id), trials.material("o", place.trial_id, up_to=2)
    assert (now.last_batch, now.version, then.last_batch) == (3, 4, 2)
    assert (len(now.readings.frame), len(then.readings.frame)) == (3, 9)
    assert [batch.withdrawn_by for batch in now.history.batches] == [3, None, None]
    assert [batch.withdrawn_by for batch in then.history.batches] == [None, None]


def test_the_history_tells_the_first_plan_and_every_change(desks):
    trials, readings, place = kept(desks, (table(["rod", "wire"], (1,)), None))
    trials.change("o", place.trial_id, {"margin": 2.0, "reason": "the neighbour cares less"})
    readings.add(place, NewBatch(table(["rod", "wire"], (2,)), "text/csv"))
    history = trials.material("o", place.trial_id).history
    assert (history.first_plan.margin, history.first_plan.reference) == (1.0, "rod")
    (change,) = history.changes
    assert (change.before, change.after, change.number) == ({"margin": 1.0}, {"margin": 2.0}, 1)
    assert change.reason == "the neighbour cares less"


def test_accounts_of_several_batches_are_one(desks):
    trials, _, place = kept(
        desks, (table(["rod", "wire"], (1,)), None), (table(["rod"], (2,)).replace(b",", b";"), None)
    )
    told = trials.material("o", place.trial_id).readings.read_as
    assert (told["rows"], told["elements"], told["channels"]) == (9, 2, 3)
    assert (told["delimiter"], told["decimal_mark"], told["shape"]) == (None, ".", "long")
