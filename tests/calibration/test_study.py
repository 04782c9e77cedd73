"""The committed error rates: within their promises, and what the rule does today, both ways.

By hand or nightly (`pytest -m calibration`) every design is simulated anew with as many trials; parts are
kept in the folder named by CALIBRATION_PARTS, so that a stopped run goes on where it was. In the default run
a slice with fewer trials does the same; its parts are kept in a folder that all processes of the run share.
"""

import fcntl
import os
import tempfile
from dataclasses import fields
from pathlib import Path

import pytest

from tests.calibration import study
from tests.calibration.designs import designs
from tests.calibration.rates import COUNTED, Rates, agrees, most_allowed
from tests.calibration.study import committed, error_rates_text, results_text
from tests.calibration.tables import PROMISED, over

COMMITTED = committed()
BY_KEY = {design.key: design for design in designs()}
PARTS = Path(os.environ.get("CALIBRATION_PARTS", Path(tempfile.gettempdir()) / "calibration-parts"))
ANEW = 1  # another seed than the committed trials
SLICE = 300
IN_SLICE = [key for key, design in BY_KEY.items() if design.group in ("noise", "power")] + [
    "normal-all-equal-10",
    "one-three-times-as-noisy-at-0.90-all-equal-4",
    "normal-planned-4-all-equal-2",
    "normal-one-look-at-the-plan-all-equal-4",
    "skewed-and-one-three-times-as-noisy-all-equal-2",
    "drift-of-0.25-sd-a-place-fixed-order-all-equal-4",
    "normal-struck-at-random-all-equal-3",
    "one-three-times-as-noisy-in-every-second-round-all-equal-3",
]


def differing(found: Rates, key: str) -> list[str]:
    """Which counts cannot come from the committed rate; single intervals of one trial are not independent."""
    kept = COMMITTED[key]
    return [
        name
        for name in COUNTED
        if name != "leader_single"
        and not agrees(getattr(found, name), found.trials, getattr(kept, name), kept.trials)
    ]


def test_every_design_is_committed_with_as_many_trials():
    assert set(COMMITTED) == set(BY_KEY)
    assert {counts.trials for counts in COMMITTED.values()} == {5_000}


@pytest.mark.parametrize("key", [key for key, design in BY_KEY.items() if design.promise is not None])
def test_no_committed_rate_is_over_its_promise(key):
    """At the 99.9 % binomial upper bound."""
    assert over(BY_KEY[key], COMMITTED[key]) == []


def test_the_tables_are_made_of_the_committed_counts():
    assert study.RESULTS.read_text(encoding="utf-8") == results_text(COMMITTED)
    assert study.FOR_REPORTS.read_text(encoding="utf-8") == error_rates_text(COMMITTED)


@pytest.fixture(scope="module")
def slice_folder(tmp_path_factory, worker_id) -> Path:
    own = tmp_path_factory.getbasetemp()
    folder = (own if worker_id == "master" else own.parent) / "slice"
    folder.mkdir(exist_ok=True)
    return folder


def of_the_slice(key: str, folder: Path) -> Rates:
    """Simulated by the first process of the run that asks; another that asks meanwhile waits for it."""
    with (folder / f"{key}.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        return study.part(BY_KEY[key], SLICE, folder, seed=ANEW)


@pytest.mark.parametrize("key", IN_SLICE)
def test_a_slice_agrees_with_the_committed_rates_and_the_promise(key, slice_folder):
    found = of_the_slice(key, slice_folder)
    assert differing(found, key) == []
    assert over(BY_KEY[key], found) == []


def test_the_slice_as_a_whole_agrees_with_the_committed_rates(slice_folder):
    """Many designs with few trials each are many trials: a shift that all of them share shows."""
    found = [of_the_slice(key, slice_folder) for key in IN_SLICE]
    kept = [COMMITTED[key] for key in IN_SLICE]
    trials = sum(one.trials for one in kept)
    for name in COUNTED:
        if name == "leader_single":
            continue
        mine, theirs = (sum(getattr(one, name) for one in counts) for counts in (found, kept))
        assert agrees(mine, SLICE * len(found), theirs, trials), name


@pytest.mark.calibration
@pytest.mark.parametrize("key", BY_KEY)
def test_a_whole_study_made_anew_agrees_with_the_committed_rates_and_the_promise(key):
    design = BY_KEY[key]
    found = study.part(design, COMMITTED[key].trials, PARTS / "anew", seed=ANEW)
    assert differing(found, key) == []
    assert over(design, found) == []


def test_two_counts_agree_or_not():
    assert agrees(50, 1_000, 250, 5_000)
    assert agrees(0, 150, 100, 5_000)
    assert not agrees(90, 1_000, 250, 5_000)
    assert not agrees(15, 1_000, 250, 5_000)


def test_what_chance_allows_of_a_promise():
    """Binomial quantile: with 5 000 trials of 0.05 more than 299 errors come once in a thousand studies."""
    assert most_allowed(0.05, 5_000) == 299
    design = BY_KEY["normal-all-equal-3"]
    errors = dict.fromkeys((field.name for field in fields(Rates)), 0) | {"trials": 5_000}
    assert over(design, Rates(**errors | {"false_calls": 299})) == []
    assert over(design, Rates(**errors | {"false_calls": 300, "ever_missed": 300})) == [
        "false_calls",
        "ever_missed",
    ]
    many = dict.fromkeys(PROMISED, 300) | {"leader_single": 600}  # of three elements the leader has two
    assert set(over(design, Rates(**errors | many))) == set(PROMISED)


def test_a_part_of_another_design_or_size_is_not_taken(tmp_path):
    design, other = BY_KEY["normal-all-equal-2"], BY_KEY["normal-one-margin-apart-2"]
    found = study.part(design, 20, tmp_path)
    path = tmp_path / f"{design.key}.json"
    assert study.kept(tmp_path, design, 20) == found
    assert study.kept(tmp_path, design, 21) is None
    path.rename(tmp_path / f"{other.key}.json")
    assert study.kept(tmp_path, other, 20) is None
