"""Baselines as rows: one of a name for an owner, found by that owner alone, and outliving their trial."""

from dataclasses import replace

import pytest

from service.storage import baseline_rows, trial_rows
from service.storage.baseline_rows import NAMING, BaselineRow
from service.storage.clock import now_text

NAME = "Brass whip, „Kai“ 日本"


@pytest.fixture
def trial(database):
    with database.begin() as connection:
        return trial_rows.insert_trial(connection, "owner", {"meter": {"unit": "bars"}})


def baseline(trial, name=NAME, owner="owner"):
    return BaselineRow(
        id=trial_rows.new_id(),
        owner=owner,
        name=f"{name} {trial.id}",
        trial_id=trial.id,
        element="whip",
        date=now_text(),
        date_from=NAMING,
        note=None,
        created_at=now_text(),
    )


def test_one_comes_back_by_id_and_by_name_for_its_owner_alone(database, trial):
    made = baseline(trial)
    with database.begin() as connection:
        assert baseline_rows.insert_baseline(connection, made)
    with database.reading() as connection:
        assert baseline_rows.find_baseline(connection, "owner", baseline_id=made.id) == made
        assert baseline_rows.find_baseline(connection, "owner", name=made.name) == made
        for wrong in ({"baseline_id": made.id}, {"name": made.name}):
            assert baseline_rows.find_baseline(connection, "other", **wrong) is None


def test_a_name_is_an_owners_once_and_what_is_there_stays(database, trial):
    made = baseline(trial)
    again = replace(made, id=trial_rows.new_id(), element="another")
    with database.begin() as connection:
        assert baseline_rows.insert_baseline(connection, made)
        assert not baseline_rows.insert_baseline(connection, again)
        assert baseline_rows.insert_baseline(connection, replace(again, owner="other"))
        assert baseline_rows.find_baseline(connection, "owner", name=made.name) == made


def test_one_outlives_its_trial_and_tells_that_it_is_gone(database, trial):
    made = baseline(trial)
    with database.begin() as connection:
        baseline_rows.insert_baseline(connection, made)
        trial_rows.delete_trial(connection, trial)
        found = baseline_rows.find_baseline(connection, "owner", baseline_id=made.id)
        assert found == replace(made, trial_kept=False)
        baseline_rows.delete_baseline(connection, found)
        assert baseline_rows.find_baseline(connection, "owner", baseline_id=made.id) is None


def test_pages_hold_every_baseline_once_the_newest_first(database, trial):
    owner = trial.id
    made = [baseline(trial, name=f"{number}", owner=owner) for number in range(5)]
    with database.begin() as connection:
        for one in made:
            baseline_rows.insert_baseline(connection, one)
        found, after = [], None
        while page := baseline_rows.baselines_after(connection, owner, after, limit=2):
            found += page
            after = (page[-1].created_at, page[-1].id)
    assert [one.id for one in found] == [one.id for one in reversed(made)]
    assert {one.trial_kept for one in found} == {False}  # the trial is another owner's
