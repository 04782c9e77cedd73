"""The names that readings bring, and references to names that are not there."""

import pytest

from service.errors import BadInput
from service.trial.names import with_names_of
from service.trial.readings_table import Readings
from service.trial.trial import Channel, Element, KnownRepeatability, Meter, Strike, Trial
from tests.trial.made_readings import readings, rows

ROWS = rows("b 1 x\na 1 é\na 1 Z\nB 2 x", "element", "round", "channel")


def named(made=ROWS, **fields):
    return with_names_of(Trial(meter=Meter("bars", 0.0), **fields), readings(made))


def faults_of(made=ROWS, **fields):
    with pytest.raises(BadInput) as caught:
        named(made, **fields)
    return {fault.pointer or fault.column: fault for fault in caught.value.faults}


def test_names_of_the_readings_follow_those_of_the_trial_by_code_point():
    trial = named(elements=(Element("z"), Element("b", "rod")), channels=(Channel("x", label="One"),))
    assert [element.id for element in trial.elements] == ["z", "b", "B", "a"]
    assert [element.label for element in trial.elements] == ["z", "rod", "B", "a"]
    assert [channel.id for channel in trial.channels] == ["x", "Z", "é"]


def test_the_order_of_rows_does_not_matter():
    assert named(ROWS[::-1]) == named(ROWS)


def test_channels_take_the_rf_channel_of_the_readings():
    made = [row | {"rf_channel": "27"} if row["channel"] == "x" else row for row in ROWS]
    trial = named(made, channels=(Channel("Z", "31"),))
    assert {channel.id: channel.rf_channel for channel in trial.channels} == {"Z": "31", "x": "27", "é": None}


def test_a_channel_on_two_rf_channels_is_refused():
    made = [row | {"rf_channel": number} for row, number in zip(ROWS, "1231", strict=True)]
    assert named(made)
    made[3]["rf_channel"] = "9"
    fault = faults_of(made)["rf_channel"]
    assert (fault.row, fault.given) == (3, "9")
    assert "on RF channel 1 and on 9" in fault.detail


def test_a_channel_on_many_rf_channels_is_told_once_with_the_number_of_readings():
    made = [{"element": "a", "round": n, "channel": "x", "rf_channel": str(n % 3)} for n in range(1, 9)]
    with pytest.raises(BadInput) as caught:
        named([*made, {"element": "a", "round": 1, "channel": "y", "rf_channel": "7"}])
    (fault,) = caught.value.faults
    assert (fault.row, fault.given) == (1, "2")
    assert "do not say 1: 5" in fault.detail


def test_the_trial_and_its_readings_may_not_disagree_on_an_rf_channel():
    made = [row | {"rf_channel": "27"} for row in ROWS]
    assert set(faults_of(made, channels=(Channel("x", "31"),))) == {"rf_channel"}


@pytest.mark.parametrize(
    ("fields", "place"),
    [
        ({"reference": "q"}, "#/trial/reference"),
        ({"elements": (Element("a"), Element("t", twin_of="q"))}, "#/trial/elements/1/twin_of"),
        ({"elements": (Element("p", pad_of="q", pad_db=3.0),)}, "#/trial/elements/0/pad_of"),
        ({"elements": (Element("t", twin_of="t"),)}, "#/trial/elements/0/twin_of"),
        ({"struck": (Strike("q", 1, "x"),)}, "#/trial/struck/0/element"),
        ({"struck": (Strike("a", 2, "x"),)}, "#/trial/struck/0/round"),
    ],
)
def test_references_name_what_is_there(fields, place):
    assert list(faults_of(**fields)) == [place]


def test_the_remedy_lists_what_is_there():
    assert "there are B, a, b" in faults_of(reference="q")["#/trial/reference"].detail
    assert "round 1" in faults_of(struck=(Strike("a", 2, "x"),))["#/trial/struck/0/round"].detail


def test_references_may_name_what_only_the_readings_bring():
    trial = named(reference="B", elements=(Element("t", twin_of="a"),), struck=(Strike("B", 2, "x"),))
    assert trial.reference == "B"


def test_strikes_count_inferred_rounds():
    made = rows("a x\nb x\na x\nb x", "element", "channel")
    assert named(made, struck=(Strike("a", 2, "wind"),))
    assert list(faults_of(made, struck=(Strike("a", 3, "wind"),))) == ["#/trial/struck/0/round"]


def test_known_repeatability_is_of_rf_channels_that_are_there():
    known = KnownRepeatability(0.3, 9, ("x", "31"), "remounts")
    assert list(faults_of(known_repeatability=known)) == ["#/trial/known_repeatability/rf_channels/1"]


def test_all_faults_come_at_once():
    made = [row | {"rf_channel": number} for row, number in zip(ROWS, "1239", strict=True)]
    faults = faults_of(made, reference="q", struck=(Strike("q", 1, "x"),))
    assert set(faults) == {"rf_channel", "#/trial/reference", "#/trial/struck/0/element"}


def test_readings_of_a_table_are_placed_by_line():
    made = [row | {"rf_channel": number} for row, number in zip(ROWS, "1239", strict=True)]
    table = Readings(readings(made).frame.assign(row=[2, 3, 4, 5]), {"media_type": "text/csv"})
    with pytest.raises(BadInput) as caught:
        with_names_of(Trial(meter=Meter("bars", 0.0)), table)
    assert [(fault.row, fault.column) for fault in caught.value.faults] == [(5, "rf_channel")]
