"""What is said of a single scan."""

import pytest
from scipy.stats import studentized_range

from service.analysis.one_scan import expected_range, range_by_chance
from tests.analysis.made_trials import BARS, made_trial, noisy_scores, trial_of_rows

# Expected range of n standard normal values, Tippett (1925), as printed in tables of the factor d2 for
# control charts to three decimals (from memory; the two-decimal values are given by the trade everywhere).
PRINTED = {2: 1.128, 3: 1.693, 4: 2.059, 5: 2.326, 6: 2.534, 8: 2.847, 10: 3.078}


@pytest.mark.parametrize(("elements", "printed"), PRINTED.items())
def test_the_expected_range_is_the_printed_one(elements, printed):
    assert expected_range(elements) == pytest.approx(printed, abs=5.001e-4)


@pytest.mark.parametrize("elements", [2, 3, 4, 8, 64])
def test_the_range_by_chance_is_that_of_the_studentised_range_with_known_sd(elements):
    assert range_by_chance(elements) == pytest.approx(
        studentized_range.ppf(0.95, elements, float("inf")), rel=1e-6
    )


def test_the_range_of_two_is_root_two_of_a_normal_value():
    # |x - y| <= q with probability 0.95: q = sqrt(2) times the normal quantile of 0.975
    assert range_by_chance(2) == pytest.approx(2**0.5 * 1.959963984540054, rel=1e-10)


def test_there_is_no_range_of_one():
    with pytest.raises(ValueError, match="two values"):
        range_by_chance(1)


def bars_of(totals: dict[str, list[int]]) -> list[dict[str, object]]:
    return [
        {"element": name, "round": 1, "channel": f"s{c}", "rf_channel": str(21 + c), "value": value}
        for name, values in totals.items()
        for c, value in enumerate(values)
    ]


def test_the_totals_are_the_persons_own(analysed):
    rows = bars_of({"a": [7, 5, 6], "b": [4, 5, 6], "c": [5, 5, 5]})
    scan = analysed(trial_of_rows(rows, meter=BARS, minutes_per_run=12))["one_scan"]
    assert (scan["of"], scan["unit"]) == ("total", "bars")
    assert scan["totals"] == [
        {"element": "a", "value": 18.0},
        {"element": "b", "value": 15.0},
        {"element": "c", "value": 15.0},
    ]
    assert scan["span"] == 3.0
    assert scan["break_even_sd"] == pytest.approx(3.0 / 1.6926, rel=1e-4)
    assert scan["remount_test"] == {
        "element": "a",
        "remounts": 10,
        "minutes": 120.0,
        "sd_below": pytest.approx(
            3.0 / 3.3145, rel=1e-4
        ),  # 3.31: the printed 5 % point of q for 3 and infinity
    }
    assert scan["fewest_rounds"] == 3
    assert scan["hours"] == {"remount_test": 2.0, "fewest_rounds": pytest.approx(1.8)}


def test_equal_totals_have_nothing_that_a_remount_test_could_tell(analysed):
    scan = analysed(trial_of_rows(bars_of({"a": [7, 5], "b": [5, 7]}), meter=BARS))["one_scan"]
    assert (scan["span"], scan["break_even_sd"], scan["remount_test"]) == (0.0, 0.0, None)


def test_twins_and_pads_take_no_part_in_the_span(analysed):
    rows = bars_of({"a": [7, 5, 6], "b": [6, 5, 6], "p": [1, 2, 1]})
    document = analysed(
        trial_of_rows(
            rows, meter=BARS, elements=[{"id": "a"}, {"id": "b"}, {"id": "p", "pad_of": "a", "pad_db": 3}]
        )
    )
    assert [entry["element"] for entry in document["one_scan"]["totals"]] == ["a", "b"]
    assert document["one_scan"]["span"] == 1.0


def test_the_reference_is_remounted_where_there_is_one(analysed):
    made = made_trial({"a": [5.0], "b": [4.0], "c": [3.0]}, reference="c")
    assert analysed(made)["one_scan"]["remount_test"]["element"] == "c"


def test_decibels_are_not_added_up(analysed):
    document = analysed(made_trial({"a": [5.0], "b": [4.0]}))
    assert document["one_scan"]["of"] == "score"
    assert document["one_scan"]["span"] == pytest.approx(1.0)
    assert document["one_scan"]["hours"] is None
    assert {
        (entry["total"], entry["total_possible"], entry["percent_of_best"]) for entry in document["elements"]
    } == {(None, None, None)}


def test_it_is_null_from_two_rounds_on(analysed):
    assert analysed(made_trial(noisy_scores({"a": 1.0, "b": 2.0}, rounds=2, sd=0.1)))["one_scan"] is None
