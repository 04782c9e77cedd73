"""A problem on the terminal: place by place, and nothing that steers it."""

import io

import pytest

from service.client.trouble import Trouble, printable, problem_trouble
from service.intake.values import remedy

HEAD = {"title": "The input has faults", "detail": "Mend each place.", "status": 422}


def lines(**members) -> list[str]:
    return list(problem_trouble(HEAD | members, lambda row: f"r.csv line {row}").lines)


def test_each_place_has_its_line():
    errors = [
        {"row": 7, "column": "value", "given": "7/10", "detail": "a number is wanted"},
        {"pointer": "#/trial/meter/unit", "given": None, "detail": "one of bars, dB"},
        {"parameter": "planned_rounds", "given": "six", "detail": "a whole number"},
        {"detail": "nothing to read"},
    ]
    assert lines(errors=errors, count=4) == [
        "The input has faults. Mend each place.",
        '  r.csv line 7, column value: given "7/10": a number is wanted',
        "  #/trial/meter/unit: given null: one of bars, dB",
        '  --planned-rounds: given "six": a whole number',
        "  input: nothing to read",
    ]


def test_a_place_of_the_body_is_called_what_the_user_calls_it():
    errors = [
        {"pointer": pointer, "detail": "x"} for pointer in ("#/trials/2", "#/trials", "#/trialsman", "#/a")
    ]
    told = problem_trouble(HEAD | {"errors": errors}, str, called={"#/trials": "TRIAL"}).lines[1:]
    assert list(told) == ["  TRIAL: x", "  TRIAL: x", "  #/trialsman: x", "  #/a: x"]


def test_faults_beyond_those_listed_are_counted():
    assert lines(errors=[{"detail": "x"}], count=250)[-1] == "  and 249 more"


def test_a_long_sentence_is_said_once_and_places_still_have_their_lines():
    detail = "x" * 61
    errors = [{"row": row, "column": "value", "given": row, "detail": detail} for row in (2, 3, 4)]
    assert lines(errors=[*errors, {"detail": "y" * 61}, {"detail": detail}])[1:] == [
        f"  r.csv line 2, column value: given 2: {detail}",
        "  r.csv line 3, column value: given 3: as above",
        "  r.csv line 4, column value: given 4: as above",
        f"  input: {'y' * 61}",
        f"  input: {detail}",
    ]


@pytest.mark.parametrize(("text", "typed"), [("n/a", "n/a"), ("no sig", "'no sig'"), ("?.", "'?.'")])
def test_a_remedy_is_told_as_what_can_be_typed(text, typed):
    (_, line) = lines(errors=[{"detail": remedy(text)}])
    assert f"name it: --nothing-found={typed}. If" in line
    assert line.endswith(f"not scanned: --not-scanned={typed}.")
    assert "_found" not in line


def test_where_the_trials_are_listed_is_a_command():
    detail = "There is no trial 'x'. GET /v1/trials lists those that are kept."
    assert lines(detail=detail)[0].endswith("`aerial-assay trial list` lists those that are kept.")


def test_the_id_of_a_fault_of_the_service_is_told():
    assert lines(id="8f2c")[0] == "The input has faults (id 8f2c). Mend each place."


def test_a_long_value_is_cut():
    (_, line) = lines(errors=[{"given": "x" * 5000, "detail": "too long"}])
    assert len(line) < 300
    assert line.endswith("...: too long")


def test_control_characters_do_not_reach_the_terminal():
    stream = io.StringIO()
    Trouble("a\x1b[2Jb", "c\nd").show(stream)
    assert "\x1b" not in stream.getvalue()
    assert stream.getvalue().count("\n") == 2
    assert printable("5 µV \u202e") == "5 µV \N{REPLACEMENT CHARACTER}"
