"""Elements: totals, rank, place, standing, the interval of the score, cost."""

import pytest

from tests.analysis.made_trials import BARS, made_trial, noisy_scores, trial_of_rows
from tests.analysis.read_document import element, pair

FOUR = {"a": 20.0, "b": 16.0, "c": 15.9, "d": 10.0}


def told(document, field: str) -> dict[str, object]:
    return {entry["id"]: entry[field] for entry in document["elements"]}


def bars(values: dict[str, list[list[int | None]]]) -> list[dict[str, object]]:
    """Readings by element, round and channel; two channels on one RF channel, then one each."""
    return [
        {
            "element": name,
            "round": r + 1,
            "channel": f"s{c}",
            "rf_channel": str(21 + max(0, c - 1)),
            "value": value,
        }
        for name, rounds in values.items()
        for r, channels in enumerate(rounds)
        for c, value in enumerate(channels)
    ]


def test_totals_are_sums_over_channels_of_mean_readings(analysed):
    rows = bars({"a": [[5, 6, 7], [7, 6, None]], "b": [[4, 4, 4], [4, 4, 5]]})
    document = analysed(trial_of_rows(rows, meter=BARS))
    assert told(document, "total") == {"a": 6.0 + 6.0 + 3.5, "b": 4.0 + 4.0 + 4.5}
    assert told(document, "total_possible") == {"a": 30.0, "b": 30.0}
    assert told(document, "percent_of_best") == {"a": 100.0, "b": pytest.approx(100 * 12.5 / 15.5)}
    assert told(document, "channels_received") == {"a": 2.5, "b": 3.0}
    assert told(document, "rf_channels_received") == {"a": 1.5, "b": 2.0}
    assert told(document, "score")["a"] == pytest.approx(((5.5 + 7) / 2 + (6.5 + 0) / 2) / 2)


def test_what_was_not_scanned_in_a_run_does_not_count_as_lost(analysed):
    rows = bars({"a": [[5, 6, 7], [7, 6, None]], "b": [[4, 4, 4], [4, 4, 5]]})
    scanned = [row for row in rows if (row["element"], row["round"], row["channel"]) != ("a", 2, "s0")]
    document = analysed(trial_of_rows(scanned, meter=BARS))
    assert told(document, "channels_received") == {"a": 2.5, "b": 3.0}  # s0 once of once, s1 twice, s2 once
    assert told(document, "rf_channels_received") == {"a": 1.5, "b": 2.0}


def test_an_open_scale_has_totals_and_no_shares(analysed):
    rows = bars({"a": [[5, 6, 7]], "b": [[4, 4, 4]]})
    document = analysed(trial_of_rows(rows, meter={"unit": "bars"}))
    assert told(document, "total") == {"a": 18.0, "b": 12.0}
    assert set(told(document, "total_possible").values()) == {None}
    assert set(told(document, "percent_of_best").values()) == {None}


def test_totals_of_nothing_at_all_have_no_shares(analysed):
    document = analysed(trial_of_rows(bars({"a": [[0, 0, 0]], "b": [[0, 0, 0]]}), meter=BARS))
    assert told(document, "total") == {"a": 0.0, "b": 0.0}
    assert set(told(document, "percent_of_best").values()) == {None}


def test_rank_place_and_standing(analysed):
    document = analysed(made_trial(noisy_scores(FOUR, rounds=6, sd=0.1), margin=0.5))
    ranks = told(document, "rank")
    assert (ranks["a"], ranks["d"], {ranks["b"], ranks["c"]}) == (1, 4, {2, 3})
    assert told(document, "place") == {"a": 1, "b": 2, "c": 2, "d": 4}
    assert told(document, "standing") == {"a": "leads"} | dict.fromkeys("bcd", "behind the leader")
    assert document["verdict"]["leading"] == ["a"]


def test_sharing_the_lead_and_not_told_apart(analysed):
    scores = noisy_scores({"a": 20.0, "b": 19.98, "c": 10.0}, rounds=6, sd=0.1)
    near = analysed(made_trial(scores, margin=1.0))
    leader, other = near["verdict"]["leading"] if element(near, "a")["rank"] == 1 else ("b", "a")
    assert near["verdict"]["outcome"] == "within noise"
    assert told(near, "standing") == {leader: "leads", other: "shares the lead", "c": "behind the leader"}
    assert told(near, "place") == {"a": 1, "b": 1, "c": 3}
    fine = analysed(made_trial(scores, margin=0.01))
    assert told(fine, "standing")[other] == "not told apart yet"


def test_the_interval_of_a_score_is_that_of_its_difference_from_the_leader(analysed):
    document = analysed(made_trial(noisy_scores(FOUR, rounds=6, sd=0.1)))
    assert element(document, "a")["score_interval"] is None
    best = element(document, "a")["score"]
    for rival in document["verdict"]["against"]:
        interval = element(document, rival["element"])["score_interval"]
        assert interval == {"low": best - rival["high"], "high": best - rival["low"]}
        assert interval["low"] < element(document, rival["element"])["score"] < interval["high"]


def test_a_standing_winner_alone_has_the_first_place(analysed):
    scores = noisy_scores({"a": 20.0, "b": 18.0, "c": 10.0}, rounds=4, sd=0.1)
    settled = analysed(made_trial(scores))
    assert settled["verdict"]["winner"] == "a"
    shaken = {name: [*runs, runs[-1] + (9.0 if name == "b" else 0.0)] for name, runs in scores.items()}
    document = analysed(made_trial(shaken))
    assert document["verdict"]["winner"] == "a"
    assert told(document, "place") == {"a": 1, "b": 2, "c": 3}
    assert pair(document, "a", "b")["present_outcome"] == "needs more runs"
    reason = next(
        entry for entry in document["verdict"]["reasons"] if entry["code"] == "present-look-differs"
    )
    assert reason["evidence"] == {"outcome": "needs more runs"}


def test_who_could_not_be_judged_has_no_rank_and_leads_nowhere(analysed):
    scores = noisy_scores(FOUR, rounds=6, sd=0.1)
    scores["d"] = [30.0, None, None, None, None, None]
    document = analysed(made_trial(scores))
    entry = element(document, "d")
    assert (entry["rank"], entry["place"], entry["standing"]) == (None, None, None)
    assert document["verdict"]["leading"] == ["a"]


def test_costs(analysed):
    elements = [
        {"id": "a", "cost": {"amount": 4.2, "currency": "EUR"}},
        {"id": "b", "cost_per_metre": {"amount": 3.0, "currency": "EUR"}, "length_mm": 500},
        {"id": "c", "cost_per_metre": {"amount": 3.0, "currency": "EUR"}},
    ]
    document = analysed(made_trial({"a": [1.0], "b": [2.0], "c": [3.0]}, elements=elements))
    assert told(document, "cost") == {
        "a": {"amount": 4.2, "currency": "EUR"},
        "b": {"amount": 1.5, "currency": "EUR"},
        "c": None,
    }
