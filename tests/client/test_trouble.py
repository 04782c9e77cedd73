"""A problem on the terminal: place by place, and nothing that steers it."""

import io

from service.client.trouble import Trouble, printable, problem_trouble

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
