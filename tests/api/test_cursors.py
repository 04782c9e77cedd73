"""Cursors that nobody was given: whoever knows how they are made can make one that fits its question."""

import pytest

from service.api.cursors import cursor_text
from tests.api.kept_requests import Kept, faults

NAMED = [
    ["9999"],
    ["9999", "z", "z"],
    [],
    "zz",
    {"a": 1, "b": 2},
    None,
    [1, 2],
    [None, None],
    [True, False],
    [10**30, "z"],
    [["a"], "z"],
    ["9999", {"a": 1}],
    ["9999\0", "z"],
    ["\u202e", "z"],
]
COUNTED = [
    [1],
    [1, 0, 0],
    [],
    [1, -5],
    [-1, 0],
    [1, 10**30],
    [10**20, 0],
    ["1", 0],
    [1, "0"],
    [None, 0],
    [1, None],
    [1.5, 0.5],
    [True, True],
    [{}, 0],
]
LISTS = ["/v1/trials", "/v1/baselines", "{trial}/analyses"]


@pytest.fixture(scope="module")
def trial(kept_client):
    trial = Kept.new(kept_client)
    trial.sent()
    return trial


def refused(answer) -> None:
    assert [fault["parameter"] for fault in faults(answer)] == ["cursor"]


@pytest.mark.parametrize("place", NAMED, ids=repr)
@pytest.mark.parametrize("path", LISTS)
def test_a_place_in_a_list_that_is_none(trial, path, place):
    name = path.rpartition("/")[2]
    asked = {"trial": trial.id} if name == "analyses" else {}
    cursor = cursor_text({"list": name, "owner": "", "limit": 5} | asked, place)
    refused(trial.client.get(path.format(trial=trial.path), query_string={"limit": 5, "cursor": cursor}))


@pytest.mark.parametrize("place", COUNTED, ids=repr)
def test_a_place_among_readings_that_is_none(trial, place):
    question = {"list": "readings", "owner": "", "trial": trial.id, "form": "json", "limit": 5}
    cursor = cursor_text(question, place)
    refused(
        trial.client.get(
            f"{trial.path}/readings", query_string={"limit": 5, "form": "json", "cursor": cursor}
        )
    )


@pytest.mark.parametrize("path", LISTS)
def test_one_that_is_well_made_is_taken_though_nobody_was_given_it(trial, path):
    """So that the tests above ask the right question."""
    name = path.rpartition("/")[2]
    asked = {"trial": trial.id} if name == "analyses" else {}
    cursor = cursor_text({"list": name, "owner": "", "limit": 5} | asked, ["0000", "z"])
    answer = trial.client.get(path.format(trial=trial.path), query_string={"limit": 5, "cursor": cursor})
    assert answer.json[name] == []
