"""The usual spellings of headings, one by one, and those that could mean two things."""

import pytest

from service.intake.headings import LONG_HEADINGS
from service.intake.spellings import AMBIGUOUS, ASIDE, SPELLINGS, choice, understood
from tests.intake.made_batches import batch, cells, faults_of


def test_every_column_is_spelt_as_itself_and_no_spelling_stands_for_two():
    assert set(SPELLINGS) == set(LONG_HEADINGS)
    spellings = [spelling for name in SPELLINGS for spelling in SPELLINGS[name]]
    assert len(spellings) == len(set(spellings))
    assert not set(spellings) & (set(AMBIGUOUS) | set(ASIDE))
    for name in LONG_HEADINGS:
        assert understood(name) == (name, None)


@pytest.mark.parametrize(
    ("heading", "name", "unit"),
    [
        ("Element", "element", None),
        ("ANTENNA", "element", None),
        ("Ch", "channel", None),
        ("Ch.", "channel", None),
        ("RF", "rf_channel", None),
        ("RF-Channel", "rf_channel", None),
        ("rf\u00a0channel", "rf_channel", None),
        ("Round no.", "round", None),
        ("Run No:", "run", None),
        ("Date/Time", "at", None),
        ("Mounting", "mounting", None),
        ("Received?", "received", None),
        ("Signal [%]", "value", "percent"),
        ("value (dBuV)", "value", "dBuV"),
        ("Value (dBµV)", "value", "dBuV"),
        ("Level (dB\u03bcV)", "value", "dBuV"),
        ("Level, dBmV", "value", "dBmV"),
        ("Level in dBm", "value", "dBm"),
        ("Signal strength %", "value", "percent"),
        ("reading(bars)", "value", "bars"),
        ("dBuV", "value", "dBuV"),
        ("%", "value", "percent"),
        ("brass@1 (dB)", "brass@1", "dB"),
        ("brass (dB)", "brass", "dB"),
    ],
)
def test_usual_spellings(heading, name, unit):
    assert understood(heading) == (name, unit)


@pytest.mark.parametrize(
    "heading", ["bars", "Station", "Brass", "brass dB", "channel (dB)", "value (volt)", "x@1"]
)
def test_other_headings_stay_as_they_are(heading):
    assert understood(heading) == (heading, None)


@pytest.mark.parametrize(
    "heading", ["Channel no.", "Test", "PASS", "No.", "#", "Name", "Notes", "Frequency (MHz)"]
)
def test_what_could_mean_two_things_comes_with_the_choice(heading):
    found = faults_of(batch, f"element,round,channel,value,{heading}\na,1,x,7,1")
    assert (found[0].row, found[0].column) == (1, heading)
    assert found[0].detail.startswith(choice(heading))


def test_a_table_in_the_users_own_words_is_read_and_told():
    body = "Antenna;Run no.;Round;CH;Signal (bars)\nBrass;1;1;One;7,5 bars\nBrass;2;1;One;8"
    _, readings = batch(body)
    assert cells(readings) == [("Brass", 1, "One", 7.5), ("Brass", 1, "One", 8.0)]
    told = [(entry["heading"], entry["read_as"], entry["evidence"]) for entry in readings.read_as["columns"]]
    assert told == [
        ("Antenna", "element", {"column": "element"}),
        ("Run no.", "run", {"column": "run"}),
        ("Round", "round", {"column": "round"}),
        ("CH", "channel", {"column": "channel"}),
        ("Signal (bars)", "value, in bars", {"column": "value", "unit": "bars"}),
    ]
    assert {entry["code"] for entry in readings.read_as["columns"]} == {"column"}


def test_faults_name_columns_as_they_are_headed():
    found = faults_of(batch, "Antenna,Rnd,Ch,Level\na,0,x,11\n,1,y,7")
    assert [(fault.row, fault.column) for fault in found] == [(2, "Rnd"), (2, "Level"), (3, "Antenna")]


def test_two_spellings_of_one_column_are_one_too_many():
    found = faults_of(batch, "element,channel,Level,Signal\na,x,7,8")
    assert (found[0].row, found[0].column) == (1, "Signal")
    assert "Level and Signal all stand for value" in found[0].detail


def test_a_channel_and_a_value_alone_are_answered_with_both_forms():
    (fault,) = faults_of(batch, "Ch,Signal\nx,7")
    assert "no column element" in fault.detail
    assert "channel,Signal@1" in fault.detail
