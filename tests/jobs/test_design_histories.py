"""A history as work: it travels to a worker and back, and what goes wrong there is told."""

import json
from pathlib import Path

import pytest

from service.errors import BadInput, NotKnown
from service.jobs.design_histories import HistoryDesk
from service.jobs.kept_batches import NewBatch
from service.jobs.kept_readings import KeptReadings, Place
from service.jobs.kept_trials import KeptTrials
from service.jobs.pool import Pool
from service.jobs.runners import Here
from service.settings import Limits
from service.storage import open_database

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
TRIAL = json.loads((EXAMPLES / "design-history-trial.json").read_text(encoding="utf-8"))
LIMITS = Limits()


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    """The desk of kept trials, and the question of the example's own four."""
    database = open_database(f"sqlite:///{tmp_path_factory.mktemp('kept') / 'kept.sqlite3'}")
    trials, readings = KeptTrials(database, LIMITS), KeptReadings(database, Here(), LIMITS)
    ids = []
    for place in range(1, 5):
        ids.append(trials.create("me", TRIAL).document["id"])
        table = (EXAMPLES / f"design-history-{place}.csv").read_bytes()
        readings.add(Place("me", ids[-1]), NewBatch(table, "text/csv"))
    yield trials, {"element": "roof-whip", "reference": "indoor-spare", "trials": ids}
    database.close()


def test_a_history_is_made_in_a_worker_process(kept, tmp_path):
    trials, question = kept
    pool = Pool(1, waiting=1)
    desk = HistoryDesk(pool, trials, limits=LIMITS, references=tmp_path)
    try:
        assert desk.document("me", question)["outcome"] == "creeps"
        report = desk.report("me", question, form="text", paper="a4")
        assert report.content.startswith(b"Outcome: creeps\n")
        assert report.about == {"outcome": "creeps"}
        with pytest.raises(BadInput) as refused:
            desk.document("me", question | {"element": "gone"})
        assert [fault.pointer for fault in refused.value.faults] == ["#/element"]
    finally:
        pool.close()


def test_what_another_owner_keeps_is_not_there(kept):
    trials, question = kept
    desk = HistoryDesk(Here(), trials, limits=LIMITS, references=None)
    with pytest.raises(NotKnown, match="There is no trial"):
        desk.document("somebody else", question)


def test_a_trial_that_was_changed_gives_another_document(kept):
    trials, question = kept
    desk = HistoryDesk(Here(), trials, limits=LIMITS, references=None)
    before = desk.document("me", question)
    change = {"margin": 0.9, "reason": "tightened by mistake"}
    for one in question["trials"]:
        trials.change("me", one, change)
    after = desk.document("me", question)
    assert (before["margin"], after["margin"]) == (0.5, 0.9)
    assert before["history_id"] != after["history_id"]
    assert after["trials"][0]["history"]["changes"][0]["reason"] == "tightened by mistake"
