"""Which RF channels came in, apart from how strong they were."""

from tests.analysis.made_trials import BARS, Row, trial_of_rows

HEARD = {
    # element: for each round, what was received (x), lost (.) or not scanned (-) on s0 s1 s2 s3
    "a": ["xxxx", "xxxx", "xxx.", "xxxx"],
    "b": ["xx.x", "xx.x", "xx.x", "xx.-"],
}


def rows_of_marks(heard: dict[str, list[str]]) -> list[Row]:
    return [
        {
            "element": name,
            "round": r + 1,
            "channel": f"s{c}",
            "rf_channel": f"s{c}",
            "value": 3 + (r + c) % 3 if mark == "x" else None,
        }
        for name, rounds in heard.items()
        for r, marks in enumerate(rounds)
        for c, mark in enumerate(marks)
        if mark != "-"
    ]


def test_rounds_are_counted_by_element_and_rf_channel(analysed):
    told = analysed(trial_of_rows(rows_of_marks(HEARD), meter=BARS))["reception"]
    assert told["unit"] == "round"
    assert told["elements"][0]["rf_channels"] == [
        {"id": "s0", "received_rounds": 4, "scanned_rounds": 4},
        {"id": "s1", "received_rounds": 4, "scanned_rounds": 4},
        {"id": "s2", "received_rounds": 4, "scanned_rounds": 4},
        {"id": "s3", "received_rounds": 3, "scanned_rounds": 4},
    ]
    assert told["elements"][1]["rf_channels"][2] == {"id": "s2", "received_rounds": 0, "scanned_rounds": 4}
    assert told["elements"][1]["rf_channels"][3] == {"id": "s3", "received_rounds": 3, "scanned_rounds": 3}


def test_a_pair_is_compared_where_both_were_scanned(analysed):
    (pair,) = analysed(trial_of_rows(rows_of_marks(HEARD), meter=BARS))["reception"]["pairs"]
    assert (pair["only_first"], pair["only_second"]) == (["s2"], ["s3"])
    # round differences 1, 1, 0, 1: of 16 flips the 4 with all three ones of one sign reach the sum 3
    assert pair["p_value"] == 4 / 16


def test_gains_and_losses_of_each_round_are_counted_against_the_reference_where_both_were_scanned(analysed):
    told = analysed(trial_of_rows(rows_of_marks(HEARD), meter=BARS, reference="a"))["reception"]
    assert told["against"] == "a"
    names = ("round", "scanned", "received", "gained", "lost")
    counts = [[[entry[name] for name in names] for entry in one["by_round"]] for one in told["elements"]]
    assert counts[0] == [[1, 4, 4, 0, 0], [2, 4, 4, 0, 0], [3, 4, 3, 0, 0], [4, 4, 4, 0, 0]]
    assert counts[1] == [[1, 4, 3, 0, 1], [2, 4, 3, 0, 1], [3, 4, 3, 1, 1], [4, 3, 2, 0, 1]]


def test_without_a_reference_the_leader_is_what_gains_are_counted_against(analysed):
    document = analysed(trial_of_rows(rows_of_marks(HEARD), meter=BARS))
    assert document["reception"]["against"] == document["verdict"]["leading"][0]


def test_one_round_has_no_p(analysed):
    heard = {name: rounds[:1] for name, rounds in HEARD.items()}
    (pair,) = analysed(trial_of_rows(rows_of_marks(heard), meter=BARS))["reception"]["pairs"]
    assert pair["p_value"] is None
    assert pair["only_first"] == ["s2"]


def test_two_rounds_have_one(analysed):
    heard = {name: rounds[:2] for name, rounds in HEARD.items()}
    (pair,) = analysed(trial_of_rows(rows_of_marks(heard), meter=BARS))["reception"]["pairs"]
    assert pair["p_value"] == 2 / 4  # one RF channel more in both rounds


def test_cochrans_q_of_two_elements_is_mcnemars_statistic(analysed):
    heard = {"a": ["xxxx", "xxx."], "b": ["xx.x", "x..x"]}
    told = analysed(trial_of_rows(rows_of_marks(heard), meter=BARS))["reception"]["cochran_q"]
    # rows where only a received: 3, only b: 1; Q = (3 - 1)^2 / (3 + 1), Cochran (1950)
    assert told["statistic"] == 1.0
    assert 0 < told["p_value"] <= 1


def test_an_element_that_was_never_run_takes_nothing_away(analysed):
    rows = rows_of_marks({"a": ["xxxx", "xxx."], "b": ["xx.x", "x..x"]})
    told = analysed(trial_of_rows(rows, meter=BARS, elements=[{"id": "a"}, {"id": "b"}, {"id": "z"}]))[
        "reception"
    ]
    assert told["cochran_q"]["statistic"] == 1.0
    assert told["elements"][2]["rf_channels"][0] == {"id": "s0", "received_rounds": 0, "scanned_rounds": 0}
    assert told["pairs"][1]["p_value"] is None


def test_channels_tell_mean_and_range(analysed):
    rows = [
        {"element": name, "round": r + 1, "channel": "s0", "rf_channel": "27", "value": value}
        for name, values in {"a": [3, 5, None], "b": [7, 7, 8]}.items()
        for r, value in enumerate(values)
    ]
    (channel,) = analysed(trial_of_rows(rows, meter=BARS))["channels"]
    assert channel == {
        "id": "s0",
        "rf_channel": "27",
        "band": None,
        "elements": [
            {"element": "a", "mean": 8 / 3, "low": 0.0, "high": 5.0},
            {"element": "b", "mean": 22 / 3, "low": 7.0, "high": 8.0},
        ],
    }
