"""What one batch may hold."""

import json
from dataclasses import replace

import pytest

from service.errors import TooLarge, UnsupportedMedia
from service.settings import Limits
from tests.intake.made_batches import BARS, JSON, batch, faults_of, json_batch, only_fault

FEW = Limits(readings=3)


@pytest.mark.parametrize("form", ["long", "wide", "json"])
def test_readings_are_counted_before_they_are_read(form):
    def body(number):
        if form == "long":
            return "element,round,channel,value\n" + "".join(f"a,1,c{place},7\n" for place in range(number))
        if form == "wide":
            return "channel," + ",".join(f"a@{place + 1}" for place in range(number)) + "\nx" + ",7" * number
        rows = [{"element": "a", "channel": f"c{place}", "value": 7} for place in range(number)]
        return json.dumps({"trial": BARS, "readings": rows})

    media_type, trial = (JSON, None) if form == "json" else ("text/csv", BARS)
    assert len(batch(body(3), media_type, trial=trial, limits=FEW)[1].frame) == 3
    with pytest.raises(TooLarge, match="at most 3"):
        batch(body(4), media_type, trial=trial, limits=FEW)


@pytest.mark.parametrize(
    ("limits", "what"),
    [
        (Limits(elements=2), "3 elements"),
        (Limits(channels=1), "2 channels"),
        (Limits(rounds=1), "2 rounds"),
        (Limits(pairs_times_rounds=5), "6 pairs of elements times rounds"),
    ],
)
def test_names_rounds_and_work_are_bounded(limits, what):
    rows = "".join(
        f"{element},{number},{channel},7\n" for element in "abc" for number in (1, 2) for channel in "xy"
    )
    body = "element,round,channel,value\n" + rows
    at_most = replace(Limits(), elements=3, channels=2, rounds=2, pairs_times_rounds=6)
    assert len(batch(body, limits=at_most)[1].frame) == 12
    assert what in only_fault(batch, body, limits=limits).detail


def test_a_limit_comes_with_its_remedy():
    body = "element,round,channel,value\na,1,x,7\na,2,x,7"
    assert "smaller trials" in only_fault(batch, body, limits=Limits(rounds=1)).detail
    with pytest.raises(TooLarge, match="Send fewer rounds or fewer channels"):
        batch(body, limits=Limits(readings=1))
    trial = BARS | {"elements": [{"id": "a"}, {"id": "b"}, {"id": " c"}]}
    found = {
        fault.pointer: fault.detail
        for fault in faults_of(batch, body, trial=trial, limits=Limits(elements=2))
    }
    assert list(found) == ["#/trial/elements"]
    assert "3 elements; at most 2" in found["#/trial/elements"]
    assert "smaller trials" in found["#/trial/elements"]


def test_only_columns_of_runs_count_as_readings():
    body = "channel,rf_channel,a@1,a@2,,\nx,27,7,7,,\ny,28,7,7,,"
    assert len(batch(body, limits=Limits(readings=4))[1].frame) == 4
    with pytest.raises(TooLarge):
        batch(body, limits=Limits(readings=3))


def test_struck_runs_are_no_more_than_runs_can_be():
    strike = [{"element": "a", "round": 1, "reason": "w"}, 3, 4, 5]
    body = "element,round,channel,value\na,1,x,7"
    limits = Limits(elements=1, rounds=2)
    found = faults_of(batch, body, trial=BARS | {"struck": strike}, limits=limits)
    assert {fault.pointer for fault in found} == {"#/trial/struck", "#/trial/struck/1"}


def test_rounds_that_are_inferred_are_bounded_too():
    body = "element,channel,value\n" + "a,x,7\nb,x,7\n" * 3
    assert "3 rounds" in only_fault(batch, body, limits=Limits(rounds=2)).detail


def test_a_heading_of_very_many_columns_is_refused_at_once():
    for form in ("channel", "element,channel,value"):
        with pytest.raises(TooLarge, match="more columns"):
            batch(form + ",x" * 30_000)


def test_a_wide_heading_may_be_long():
    runs = [f"element number {place} of many@1" for place in range(60)]
    runs += [f"{run[:-1]}{number}" for run in runs for number in range(2, 100)]
    names = ",".join(runs)
    assert len(names) > 131_072
    body = f"channel,{names}\nx" + ",7" * len(runs)
    _, readings = batch(body, limits=replace(Limits(), pairs_times_rounds=10**6))
    assert len(readings.frame) == 5940


@pytest.mark.parametrize("media_type", ["text/plain", "", "application/xml"])
def test_other_media_types_are_not_read(media_type):
    with pytest.raises(UnsupportedMedia, match="text/csv"):
        batch("x", media_type)


def test_names_have_a_length():
    row = {"element": "a" * 6, "channel": "x", "value": 7}
    assert json_batch([row])
    body = json.dumps({"trial": BARS, "readings": [row]})
    fault = only_fault(batch, body, JSON, trial=None, limits=Limits(text_characters=5))
    assert fault.pointer == "#/readings/0/element"
