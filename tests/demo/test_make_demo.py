"""The demo's files are what the generator writes, and hold what their description says."""

import csv
import json
import subprocess
import sys
from pathlib import Path

import pytest

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
MAKER = Path(__file__).parent / "make_demo.py"


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    folder = tmp_path_factory.mktemp("made")
    subprocess.run([sys.executable, MAKER, folder], check=True)
    return {path.name: path.read_bytes() for path in folder.iterdir()}


@pytest.fixture(scope="module")
def rows():
    with (EXAMPLES / "demo-readings.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.fixture(scope="module")
def truth():
    return json.loads((EXAMPLES / "demo-truth.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def trial():
    return json.loads((EXAMPLES / "demo-trial.json").read_text(encoding="utf-8"))


def test_the_files_kept_are_the_files_made(made):
    assert len(made) == 8
    for name, content in made.items():
        assert (EXAMPLES / name).read_bytes() == content, name


def test_the_demo_has_the_size_it_claims(trial, rows):
    competing = [e for e in trial["elements"] if "twin_of" not in e and "pad_of" not in e]
    assert (len(trial["elements"]), len(competing)) == (7, 5)
    assert len({e["material"] for e in competing}) == len({e["form"] for e in competing}) == 5
    assert len(trial["channels"]) == 46
    assert len({channel["rf_channel"] for channel in trial["channels"]}) == 21
    assert len(rows) == 7 * 6 * 46


def test_every_round_holds_every_element_in_an_order_of_its_own(rows, truth):
    taken = {}
    for row in rows:
        taken.setdefault(int(row["round"]), {})[row["at"]] = row["element"]
    orders = [[name for _, name in sorted(runs.items())] for _, runs in sorted(taken.items())]
    assert orders == truth["order"]
    assert all(sorted(order) == sorted(truth["gain_bars"]) for order in orders)
    assert len({tuple(order) for order in orders}) == 6


def test_some_channels_are_lost_by_some_elements_only(rows):
    lost, found = set(), set()
    for row in rows:
        assert (row["received"] == "true") == bool(row["value"])
        (found if row["value"] else lost).add((row["element"], row["channel"]))
    channels_lost, channels_found = {c for _, c in lost - found}, {c for _, c in found}
    assert channels_lost & channels_found


def test_readings_stay_on_the_meter_and_reach_its_top(rows):
    values = {float(row["value"]) for row in rows if row["value"]}
    assert values == set(map(float, range(1, 11)))


def test_a_real_difference_an_equal_pair_and_a_spare_copy_are_in_the_truth(truth, trial):
    gain = truth["gain_bars"]
    assert gain["brass-rod-b"] == gain["brass-rod"]
    assert gain["copper-strip"] - gain["aluminium-tube"] < trial["margin"] / 2
    assert gain["brass-rod"] - gain["steel-strand"] > 2 * trial["margin"]


def test_one_scan_is_the_first_round(rows):
    with (EXAMPLES / "demo-one-scan.csv").open(encoding="utf-8", newline="") as file:
        assert list(csv.DictReader(file)) == [row for row in rows if row["round"] == "1"]


def test_the_three_forms_of_the_small_trial_hold_the_same_readings():
    body = json.loads((EXAMPLES / "verdict-request.json").read_text(encoding="utf-8"))
    cells = {(r["element"], str(r["round"]), r["channel"]): r["value"] for r in body["readings"]}
    assert len(cells) == len(body["readings"]) == 48
    with (EXAMPLES / "semicolon.csv").open(encoding="utf-8", newline="") as file:
        long = list(csv.DictReader(file, delimiter=";"))
    assert cells == {
        (r["element"], r["round"], r["channel"]): float(r["value"].replace(",", ".")) for r in long
    }
    with (EXAMPLES / "wide.csv").open(encoding="utf-8", newline="") as file:
        wide = list(csv.DictReader(file))
    runs = [heading for heading in wide[0] if "@" in heading]
    assert cells == {(*run.split("@"), row["channel"]): float(row[run]) for row in wide for run in runs}


def test_the_demo_says_that_it_is_invented(truth, trial):
    assert "invented" in trial["title"]
    assert truth["note"].startswith("Invented.")
    assert "Invented." in (EXAMPLES / "demo-truth.md").read_text(encoding="utf-8")
