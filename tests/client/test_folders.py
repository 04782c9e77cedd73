"""A folder of trials: which are found in it, what is said of each, and that none stops another."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from service.app import create_app
from service.client.commands import verdict
from service.client.folders import FolderTrial, trials_in
from service.client.trouble import Trouble
from service.settings import Settings
from tests.jobs.kept import LEVELS, TRIAL, table

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    folder = tmp_path_factory.mktemp("trials")
    for name, rounds in (("north", range(1, 7)), ("south", range(1, 2))):
        (folder / name).mkdir()
        (folder / name / "trial.json").write_text(json.dumps(TRIAL))
        (folder / name / "readings.csv").write_bytes(table(rounds))
    (folder / "parts").mkdir()
    (folder / "parts" / "trial.json").write_text(json.dumps(TRIAL))
    (folder / "parts" / "1.csv").write_bytes(table(range(1, 4)))
    (folder / "parts" / "2.csv").write_bytes(table(range(4, 7)))
    rows = [{"element": element, "round": 1, "channel": "a", "value": 20.0} for element in LEVELS]
    (folder / "batch.json").write_text(json.dumps({"trial": TRIAL, "readings": rows}))
    (folder / "wrong.json").write_text(json.dumps({"trial": TRIAL, "readings": [{"element": "rod"}]}))
    (folder / "empty").mkdir()
    (folder / "empty" / "trial.json").write_text(json.dumps(TRIAL))
    (folder / "pictures").mkdir()
    (folder / "notes.txt").write_text("none of the trials")
    return folder


@pytest.fixture(scope="module")
def run():
    """Runs the command on an application that it has to ask for with worker processes, and to close."""
    made, closed = [], []

    def application(*, in_parallel: bool = False):
        assert in_parallel
        app = create_app(Settings(workers=0))
        close = app.close
        app.close = lambda: closed.append(close())
        made.append(app)
        return app

    def run(*arguments):
        result = CliRunner().invoke(verdict, [str(argument) for argument in arguments], obj=application)
        assert len(closed) == len(made)
        return result

    return run


def test_sub_folders_and_batches_are_trials_and_nothing_else_is(folder):
    found = {trial.name: trial for trial in trials_in(folder)}
    assert sorted(found) == ["batch", "empty", "north", "parts", "south", "wrong"]
    parts = folder / "parts"
    assert found["parts"] == FolderTrial(
        "parts", (parts / "1.csv", parts / "2.csv"), document=parts / "trial.json"
    )
    assert found["batch"] == FolderTrial("batch", (folder / "batch.json",), document=None)


@pytest.fixture(scope="module")
def told(run, folder):
    return run(folder)


def test_each_trial_has_its_line_in_order_of_its_name(told):
    lines = told.stdout.splitlines()
    assert [line.split()[0] for line in lines] == ["batch", "empty", "north", "parts", "south", "wrong"]
    assert re.fullmatch(r"north  clear winner       6 rounds  rod", lines[2])
    assert lines[2].removeprefix("north") == lines[3].removeprefix("parts")
    assert re.fullmatch(r"south  needs more runs    1 round.*", lines[4])


def test_what_failed_is_told_place_by_place_with_status_3_and_the_others_still(told):
    assert told.exit_code == 3
    assert [line for line in told.stdout.splitlines() if "failed" in line] == [
        "empty  failed",
        "wrong  failed",
    ]
    assert "empty: There is no table beside trial.json." in told.stderr.splitlines()
    assert re.search(r"^wrong: The input has faults", told.stderr, flags=re.MULTILINE)
    assert "#/readings/0" in told.stderr


def test_json_is_one_object_a_line_with_the_same_documents(run, folder, alone):
    result = run(folder, "--json")
    entries = [json.loads(line) for line in result.stdout.splitlines()]
    by_name = {entry.pop("trial"): entry for entry in entries}
    assert {name for name, entry in by_name.items() if "error" in entry} == {"empty", "wrong"}
    assert by_name["north"]["analysis"]["format"] == "analysis/1"
    assert by_name["north"]["analysis"] == alone
    assert result.exit_code == 3


@pytest.fixture(scope="module")
def alone(folder):
    """The document of one of the trials, judged by itself."""
    files = [str(folder / "north" / name) for name in ("readings.csv", "trial.json")]
    result = CliRunner().invoke(verdict, [files[0], "--trial", files[1], "--json"], obj=create_app)
    return json.loads(result.stdout)


def test_reports_are_left_beside_the_trials_when_a_form_is_asked_for(run, tmp_path):
    (tmp_path / "north").mkdir()
    (tmp_path / "north" / "trial.json").write_text(json.dumps(TRIAL))
    (tmp_path / "north" / "readings.csv").write_bytes(table())
    result = run(tmp_path, "--report", "html", "--report", "card")
    assert result.exit_code == 0, result.stderr
    assert b"<html" in (tmp_path / "north.html").read_bytes()
    assert sorted(path.name for path in tmp_path.iterdir()) == ["north", "north.html", "north.png"]


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["--report", "verdict.html"], "give a form: --report html"),
        (["--trial", "t.json"], "Give it alone"),
        (["another.csv"], "Give it alone"),
    ],
)
def test_what_makes_no_sense_with_a_folder_is_refused(run, folder, arguments, told):
    result = run(folder, *arguments)
    assert result.exit_code == 3
    assert told in result.stderr
    assert result.stdout == ""


def test_a_folder_without_a_trial_and_two_of_one_name_are_told(tmp_path):
    with pytest.raises(Trouble, match="There is no trial in"):
        trials_in(tmp_path)
    (tmp_path / "north").mkdir()
    (tmp_path / "north" / "readings.csv").write_bytes(table())
    (tmp_path / "north.json").write_text("{}")
    with pytest.raises(Trouble, match="are called north"):
        trials_in(tmp_path)


def test_the_command_itself_judges_them_in_worker_processes(folder, alone):
    environment = {**os.environ, "AERIAL_ASSAY_WORKERS": "2"}
    command = [sys.executable, "-m", "service", "verdict", folder, "--json"]
    done = subprocess.run(command, env=environment, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 3
    entries = {entry["trial"]: entry for entry in map(json.loads, done.stdout.splitlines())}
    assert entries["north"]["analysis"] == alone
