"""Trials and batches as rows: found by their owner alone, in order, exactly as they came."""

import numpy as np
import pytest

from service.storage import batch_rows, trial_rows
from service.storage.batch_rows import CORRECTION, WITHDRAWAL, Content, Kind, compressed
from service.storage.packing import packed, unpacked

DOCUMENT = {"meter": {"unit": "bars"}, "title": "Kai, Fähre 日本"}


@pytest.fixture
def trial(database):
    with database.begin() as connection:
        return trial_rows.insert_trial(connection, "owner", DOCUMENT)


def test_a_trial_comes_back_as_it_was_given(database, trial):
    with database.reading() as connection:
        assert trial_rows.find_trial(connection, "owner", trial.id) == trial
    assert (trial.document, trial.version, trial.first_plan) == (DOCUMENT, 1, None)
    assert len(trial.id) == 32
    assert int(trial.id, 16)


def test_pages_hold_every_trial_once_the_newest_first(database):
    with database.begin() as connection:
        made = [trial_rows.insert_trial(connection, "pages", DOCUMENT) for _ in range(7)]
        trial_rows.insert_trial(connection, "other", DOCUMENT)
    found, after = [], None
    with database.reading() as connection:
        while page := trial_rows.trials_after(connection, "pages", after, limit=3):
            found += page
            after = (page[-1].created_at, page[-1].id)
    assert sorted(t.id for t in found) == sorted(t.id for t in made)
    assert [t.created_at for t in found] == sorted((t.created_at for t in made), reverse=True)


def test_batches_are_numbered_and_come_back_to_the_byte(database, trial):
    columns = packed({"value": np.array([1.5, np.nan]), "row": np.array([2, 3])})
    body = b"any bytes \x00\xff"
    content = Content(
        "text/csv", **compressed(body), columns=columns, names={"element": ["a"]}, holds={"runs": []}, rows=2
    )
    with database.begin() as connection:
        kinds = (Kind(), Kind(CORRECTION, "typo"), Kind(WITHDRAWAL, "wrong", 1))
        numbers = [batch_rows.insert_batch(connection, trial.id, content, kind=kind) for kind in kinds]
    assert numbers == [1, 2, 3]
    with database.reading() as connection:
        accounts = batch_rows.accounts_of(connection, trial.id)
        (kept,) = batch_rows.columns_of_batches(connection, trial.id, [2])
        assert batch_rows.body_of(connection, trial.id, 2) == body
        assert batch_rows.body_of(connection, trial.id, 9) is None
    assert [(a.number, a.kind, a.reason, a.withdraws) for a in accounts] == [
        (1, "readings", None, None), (2, "correction", "typo", None), (3, "withdrawal", "wrong", 1)
    ]  # fmt: skip
    assert kept.columns == columns
    assert np.isnan(unpacked(kept.columns, kept.columns_sha256)["value"][1])


def test_removing_a_trial_removes_what_belongs_to_it(database, trial):
    with database.begin() as connection:
        batch_rows.insert_batch(connection, trial.id, Content("text/csv"), kind=Kind())
        trial_rows.insert_change(connection, trial.id, "r", before={"margin": 1}, after={"margin": 2})
    with database.begin() as connection:
        trial_rows.delete_trial(connection, trial)
        assert batch_rows.accounts_of(connection, trial.id) == []
        assert trial_rows.changes_of(connection, trial.id) == []


def test_changes_are_kept_in_order(database, trial):
    with database.begin() as connection:
        for margin in (1, 2):
            after = {"margin": margin}
            trial_rows.insert_change(connection, trial.id, f"r{margin}", before={"margin": None}, after=after)
        changes = trial_rows.changes_of(connection, trial.id)
    assert [(c.number, c.reason, c.after) for c in changes] == [
        (1, "r1", {"margin": 1}),
        (2, "r2", {"margin": 2}),
    ]
