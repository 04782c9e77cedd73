"""Fields of forms: numbers as people type them, lists line by line, faults told in the reader's words."""

import pytest

from service.errors import BadInput, Fault
from service.intake.media_types import CSV
from service.pages.fields import choice, chosen, filled, number_in, number_input
from service.pages.moments import moment
from service.pages.named_lists import channels_in, elements_in
from service.pages.sent import Sent
from service.pages.told_faults import fault_place, told
from service.pages.trial_fields import by_field, marks_of, trial_of


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("6", 6),
        (" 0.5 ", 0.5),
        ("0,5", 0.5),
        ("\N{MINUS SIGN}60", -60),
        ("1e3", 1000.0),
        ("-7.25", -7.25),
    ],
)
def test_a_number_is_read_as_it_is_typed(text, number):
    assert number_in(text) == number
    assert type(number_in(text)) is type(number)


@pytest.mark.parametrize("text", ["ten", "nan", "inf", "1_000", "1.024,5", "1,024,5", "", "5 %", "--5"])
def test_what_is_no_number_stays_as_it_is_to_be_refused(text):
    assert number_in(text) == text


def test_a_field_shows_what_was_sent_and_what_is_wrong_with_it():
    field = number_input("margin", "Margin")
    assert filled(field, {}, {}).value == ""
    again = filled(field, {"margin": "much"}, {"margin": ["Give a number."]})
    assert (again.value, again.faults, again.invalid, again.mark) == (
        *("much", ("Give a number.",)),
        *("true", "at-fault"),
    )


def test_a_choice_shows_what_was_chosen():
    field = choice("unit", "Unit", [("", "choose"), ("bars", "bars")])
    marked = [option.value for option in chosen(field, {"unit": "bars"}, {}).options if option.selected]
    assert marked == ["bars"]
    assert chosen(field, {"unit": "x"}, {"unit": ["No such unit."]}).invalid == "true"


def test_elements_and_channels_are_listed_line_by_line():
    assert elements_in("rod A, brass, rod, 3, 690\n\n tube B ,,, 1/4 in") == [
        {"id": "rod A", "material": "brass", "form": "rod", "diameter_mm": 3, "length_mm": 690},
        {"id": "tube B", "diameter": "1/4 in"},
    ]
    assert channels_in("Harbour, 22\nQuay\nTern\t41") == [
        {"id": "Harbour", "rf_channel": "22"},
        {"id": "Quay"},
        {"id": "Tern", "rf_channel": "41"},
    ]


def test_parts_beyond_those_that_are_known_are_not_dropped():
    assert elements_in("a, brass, rod, 3, 690, green") == [
        {"id": "a", "material": "brass", "form": "rod", "diameter_mm": 3, "length": "690, green"}
    ]


def test_the_trial_holds_what_was_filled_in():
    values = {
        "unit": "bars",
        "highest": "10",
        "margin": "0,5",
        "title": " T ",
        "region": "",
        "nothing_found": "-",
    }
    assert trial_of(values) == {"meter": {"unit": "bars", "highest": 10}, "margin": 0.5, "title": "T"}
    assert marks_of({"nothing_found": "-, n/a,", "not_scanned": ""}) == {
        "nothing_found": ("-", "n/a"),
        "not_scanned": (),
    }


@pytest.mark.parametrize(
    ("fault", "where", "given"),
    [
        (Fault("d", row=2, column="a@1", given="7/10"), "Line 2, column a@1", "Harbour,7/10"),
        (Fault("d", row=9, given="x"), "Line 9", "x"),
        (Fault("d", pointer="#/trial/meter/highest", given="ten"), "Full scale", "ten"),
        (Fault("d", pointer="#/readings/4/value", given=99), "Reading 5 of the list, value", "99"),
        (Fault("d", pointer="#/readings/4"), "Reading 5 of the list", ""),
        (Fault("d", pointer="#/trial/elements/1/form", given="knot"), "Elements, line 2, form", "knot"),
        (Fault("d", pointer="#/candidates/0"), "The new design, line 1", ""),
        (Fault("d", column="readings"), "The readings", ""),
        (Fault("d", column="round"), "Column round", ""),
        (Fault("d", pointer="#"), "The whole of it", ""),
        (Fault("d"), "The whole of it", ""),
    ],
)
def test_a_fault_is_placed_in_the_readers_words(fault, where, given):
    sent = Sent("a.csv", CSV, b"channel,a@1\nHarbour,7/10\n")
    place = fault_place(fault, sent)
    assert (place.where, place.given, place.detail) == (where, given, "d")


def test_faults_are_counted_and_said_to_have_cost_nothing():
    one = told(BadInput([Fault("d", row=2)]))
    assert one.detail.startswith("One thing has to be mended.")
    assert "nothing is lost" in one.detail
    many = told(BadInput([Fault("d", row=n) for n in range(150)]))
    assert many.detail.startswith("150 things have to be mended. The first 100 are listed.")
    assert len(many.places) == 100


def test_faults_are_gathered_by_field():
    faults = [
        Fault("too high", pointer="#/trial/meter/highest"),
        Fault("again", pointer="#/trial/meter/highest"),
        Fault("no", row=3, pointer="#/trial/margin"),
        Fault("no", pointer="#/readings/0/unit"),
        Fault("minutes", pointer="#/minutes_per_run"),
    ]
    assert by_field(faults) == {"highest": ["too high", "again"]}
    assert by_field(faults, ("minutes_per_run",))["minutes_per_run"] == ["minutes"]


def test_a_moment_is_told_in_words():
    assert moment("2026-05-03T22:30:00+02:00") == "3 May 2026, 20:30 UTC"
