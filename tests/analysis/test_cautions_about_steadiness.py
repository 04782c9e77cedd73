"""Cautions about what moved during the trial: each raised, and each just not raised."""

import numpy as np
import pytest

from service.analysis.cautions.caution import LEVEL
from tests.analysis.made_trials import BARS, Row, made_trial, noisy_scores, rows_of, trial_of_rows
from tests.analysis.read_document import caution, codes, evidence, reasons

MEANS = {"a": 20.0, "b": 18.0, "c": 17.9, "d": 17.8}
SOUND = noisy_scores(MEANS, rounds=8, sd=0.2, seed=3)


def changed(name: str, number: int, by: float) -> dict[str, list[float]]:
    """The sound scores with one run changed."""
    scores = {element: list(runs) for element, runs in SOUND.items()}
    scores[name][number - 1] += by
    return scores


def last_below(raised, values):
    """The values of a rising ladder at which the caution is not raised yet, and is raised first."""
    found = [raised(value) for value in values]
    first = found.index(True)
    assert first > 0
    assert all(found[first:])
    return values[first - 1], values[first]


@pytest.mark.parametrize("reference", [None, "b"])
def test_drift(analysed, reference):
    def document(slope: float, margin: float):
        scores = {
            name: [20.0 - k + slope * r + 0.05 * (r % 3) * (1 + k) for r in range(8)]
            for k, name in enumerate("ab")
        }
        return analysed(made_trial(scores, reference=reference, margin=margin))

    found = caution(document(0.3, 1.0), "drift")
    assert found["severity"] == "warning"
    told = found["evidence"]
    assert told["element"] == reference
    assert told["over_trial"] == pytest.approx(2.1, abs=0.3)
    assert told["low"] < told["over_trial"] < told["high"]
    assert told["slope_per_run"] == pytest.approx(told["over_trial"] / 7)
    assert "drift" in codes(document(0.3, told["over_trial"] - 0.001))
    assert "drift" not in codes(document(0.3, told["over_trial"]))


def test_a_trend_that_chance_explains_is_no_drift(analysed):
    stream = np.random.default_rng(4)
    level = stream.normal(0.0, 3.0, 8)
    document = analysed(
        made_trial({name: (mean + level).tolist() for name, mean in MEANS.items()}, margin=0.1)
    )
    assert abs(document["drift"]["over_trial"]) > 0.1
    assert document["drift"]["p_value"] > LEVEL
    assert "drift" not in codes(document)


def stepped(step: float, *, at: int = 5, reference: str | None = "d"):
    scores = {name: list(runs) for name, runs in SOUND.items()}
    scores["d"] = [17.8 + 0.1 * (-1) ** r + step * (r >= at) for r in range(8)]
    return made_trial(scores, reference=reference)


def test_reference_step(analysed):
    told = evidence(analysed(stepped(-1.0)), "reference-step")
    assert (told["element"], told["last_before"], told["first_after"]) == ("d", 5, 6)
    assert told["step"] == pytest.approx(-1.0, abs=0.1)
    assert told["sd"] == pytest.approx(0.1, abs=0.02)
    assert told["p_value"] < LEVEL


def test_a_step_within_the_noise_of_the_reference_is_none(analysed):
    below, above = last_below(
        lambda step: "reference-step" in codes(analysed(stepped(step))), [0.1, 0.2, 0.3, 0.4, 0.5]
    )
    assert (below, above) == (0.4, 0.5)
    assert "reference-step" not in codes(analysed(stepped(-1.0, at=7)))  # one run alone
    assert "reference-step" not in codes(analysed(stepped(-1.0, reference=None)))


def noisy_one(times: float, *, rounds: int = 10):
    """Four elements; the noise of d is as many times that of the others."""
    scores = noisy_scores(MEANS, rounds=rounds, sd=0.2, seed=8)
    stream = np.random.default_rng(21)
    noise = stream.normal(size=rounds)
    scores["d"] = [value + extra for value, extra in zip(scores["a"], 0.2 * times * noise, strict=True)]
    return made_trial(scores)


def test_unequal_noise_warns_and_beyond_three_times_stops_its_pairs(analysed):
    found = {times: analysed(noisy_one(times)) for times in (1.2, 1.8, 8.0)}
    assert "unequal-noise" not in codes(found[1.2])
    warned = caution(found[1.8], "unequal-noise")
    assert warned["severity"] == "warning"
    assert "pairs_touched" not in warned["evidence"]
    stopped = caution(found[8.0], "unequal-noise")
    told = stopped["evidence"]
    assert stopped["severity"] == "stop"
    assert told["element"] == "d"
    assert told["times"] == pytest.approx(told["sd"] / told["others_sd"])
    assert warned["evidence"]["times"] < told["most_times"] == 3.0 < told["times"]
    assert told["pairs_touched"] == [["a", "d"], ["b", "d"], ["c", "d"]]
    assert ["a", "b"] in told["pairs_standing"]
    assert found[8.0]["verdict"]["outcome"] == "needs more runs"
    assert reasons(found[8.0])[0] == "stopped"
    assert found[1.8]["verdict"]["outcome"] != "needs more runs" or reasons(found[1.8])[0] != "stopped"


def test_one_run_out_of_line_is_not_taken_for_noise(analysed):
    document = analysed(made_trial(changed("c", 5, 6.0)))
    assert "odd-run" in codes(document)
    assert "unequal-noise" not in codes(document)


def test_of_two_elements_noise_is_not_compared(analysed):
    scores = {"a": SOUND["a"], "b": (np.array(SOUND["b"]) + 3.0 * np.array([1, -1] * 4)).tolist()}
    assert "unequal-noise" not in codes(analysed(made_trial(scores)))


def test_odd_run(analysed):
    found = caution(analysed(made_trial(changed("c", 5, -3.0))), "odd-run")
    told = found["evidence"]
    assert found["severity"] == "warning"
    assert told["runs"] == [{"element": "c", "round": 5}]
    assert told["deviation"] == pytest.approx(-3.0, abs=0.6)
    assert told["sd"] == pytest.approx(0.2, abs=0.08)
    assert told["p_value"] < LEVEL


def test_a_run_within_the_noise_is_not_odd(analysed):
    below, above = last_below(
        lambda by: "odd-run" in codes(analysed(made_trial(changed("c", 5, -by)))), [0.0, 0.3, 0.6, 0.9, 1.2]
    )
    assert 0.0 <= below < above <= 1.2


def test_of_two_elements_either_may_be_the_odd_one(analysed):
    scores = {name: runs for name, runs in changed("b", 5, 6.0).items() if name in "ab"}
    told = evidence(analysed(made_trial(scores)), "odd-run")
    assert told["runs"] == [{"element": "a", "round": 5}, {"element": "b", "round": 5}]


def test_an_odd_run_is_found_where_others_are_missing(analysed):
    scores = changed("c", 5, -3.0)
    scores["a"][0] = scores["b"][6] = None
    assert evidence(analysed(made_trial(scores)), "odd-run")["runs"] == [{"element": "c", "round": 5}]


def moved(by: dict[str, float], *, signals: int = 6) -> list[Row]:
    """Sound readings with noise of each cell; on one RF channel in round 3 each element moves by so much."""
    stream = np.random.default_rng(6)
    return [
        row
        | {
            "value": row["value"]
            + float(stream.normal(0.0, 0.3))
            + (by[row["element"]] if (row["round"], row["channel"]) == (3, "s2") else 0.0)
        }
        for row in rows_of(SOUND, signals=signals)
    ]


def test_odd_channel_round(analysed):
    found = caution(analysed(trial_of_rows(moved(dict.fromkeys("abcd", -4.0)))), "odd-channel-round")
    told = found["evidence"]
    assert found["severity"] == "note"
    assert (told["rf_channel"], told["round"]) == ("23", 3)
    assert told["move"] == pytest.approx(-4.0, abs=0.5)
    assert [entry["element"] for entry in told["moves"]] == list("abcd")
    assert np.mean([entry["move"] for entry in told["moves"]]) == pytest.approx(told["move"])


def test_what_one_element_does_alone_is_not_the_transmitter(analysed):
    alone = {"a": -16.0, "b": 0.0, "c": 0.0, "d": 0.0}
    assert "odd-channel-round" not in codes(analysed(trial_of_rows(moved(alone))))


def test_a_small_move_of_the_transmitter_is_not_told_from_noise(analysed):
    below, above = last_below(
        lambda by: "odd-channel-round" in codes(analysed(trial_of_rows(moved(dict.fromkeys("abcd", by))))),
        [0.0, 0.5, 1.0, 1.5, 2.0, 3.0],
    )
    assert below < above <= 3.0


def test_with_two_rf_channels_nobody_knows_which_one_moved(analysed):
    rows = [row for row in moved(dict.fromkeys("abcd", -4.0)) if row["channel"] in {"s1", "s2", "s3"}]
    assert "odd-channel-round" in codes(analysed(trial_of_rows(rows)))
    two = [row for row in rows if row["channel"] != "s3"]
    assert "odd-channel-round" not in codes(analysed(trial_of_rows(two)))


def test_a_quiet_meter_that_changes_by_one_step_raises_none_of_these(analysed):
    values = np.full((4, 8, 5), 5.0) + np.arange(5)
    values[2, 3, 1] += 1
    rows = [
        {
            "element": "abcd"[k],
            "round": r + 1,
            "channel": f"s{c}",
            "rf_channel": str(21 + c),
            "value": float(v),
        }
        for (k, r, c), v in np.ndenumerate(values)
    ]
    found = codes(analysed(trial_of_rows(rows, meter=BARS, reference="c")))
    assert not {"odd-run", "unequal-noise", "reference-step", "odd-channel-round", "drift"} & set(found)
