"""Bands, and cautions about them: by the region's plan, unadjusted, never from displayed numbers."""

import numpy as np
import pytest
from scipy import stats

from tests.analysis.made_trials import made_trial, noisy_scores, trial_of_rows
from tests.analysis.read_document import codes, evidence

VHF, UHF = ("6", "7"), ("27", "33")
ROUNDS = 6


def rows(
    *, in_vhf: float, in_uhf: float, sd: float = 0.3, rounds: int = ROUNDS, named: bool = True
) -> list[dict]:
    """Two elements: "a" reads so much more than "b" in each band."""
    stream = np.random.RandomState(3)
    found = []
    for number in range(1, rounds + 1):
        for element in "ab":
            for rf_channel in (*VHF, *UHF):
                more = in_vhf if rf_channel in VHF else in_uhf
                value = 20.0 + (more if element == "a" else 0.0) + sd * stream.normal()
                row = {"element": element, "round": number, "channel": f"{rf_channel}.1", "value": value}
                found.append(row | ({"rf_channel": rf_channel} if named else {}))
    return found


def test_without_a_region_bands_are_null(analysed):
    document = analysed(trial_of_rows(rows(in_vhf=1, in_uhf=1)))
    assert document["bands"] is None
    assert {channel["band"] for channel in document["channels"]} == {None}


def test_each_band_holds_its_rf_channels_and_every_pair(analysed):
    document = analysed(trial_of_rows(rows(in_vhf=1, in_uhf=2), region="europe"))
    assert [(band["band"], tuple(band["rf_channels"])) for band in document["bands"]] == [
        ("VHF-high", VHF),
        ("UHF", UHF),
    ]
    assert [channel["band"] for channel in document["channels"]] == ["UHF", "UHF", "VHF-high", "VHF-high"]


def test_the_pairs_of_a_band_are_means_over_it_with_an_interval_adjusted_for_nothing(analysed):
    given = rows(in_vhf=1, in_uhf=2)
    document = analysed(trial_of_rows(given, region="europe"))
    cells = {(row["element"], row["round"], row["rf_channel"]): row["value"] for row in given}
    differences = [np.mean([cells["a", n, m] - cells["b", n, m] for m in VHF]) for n in range(1, ROUNDS + 1)]
    low, high = stats.t.interval(0.95, ROUNDS - 1, np.mean(differences), stats.sem(differences))
    (pair,) = document["bands"][0]["pairs"]
    assert pair["difference"] == pytest.approx(np.mean(differences), rel=1e-12)
    assert (pair["interval"]["low"], pair["interval"]["high"]) == pytest.approx((low, high), rel=1e-9)
    assert "unadjusted" in pair["interval"]["method"]


def test_a_meter_that_rounds_everything_alike_leaves_its_step_in_the_interval(analysed):
    given = [row | {"value": float(round(row["value"]))} for row in rows(in_vhf=2, in_uhf=2, sd=0.0)]
    document = analysed(trial_of_rows(given, region="europe", meter={"unit": "dB", "resolution": 1}))
    interval = document["bands"][0]["pairs"][0]["interval"]
    assert interval["high"] - interval["low"] > 0.5


def test_one_round_has_a_difference_and_no_interval(analysed):
    document = analysed(trial_of_rows(rows(in_vhf=1, in_uhf=1, rounds=1), region="europe"))
    (pair,) = document["bands"][0]["pairs"]
    assert pair["difference"] is not None
    assert pair["interval"] is None


def test_displayed_numbers_have_no_band(analysed):
    document = analysed(trial_of_rows(rows(in_vhf=1, in_uhf=1, named=False), region="europe"))
    assert document["bands"] == []
    assert {channel["band"] for channel in document["channels"]} == {None}
    assert "rf-channel-guessed" in codes(document)


def test_numbers_that_the_region_does_not_know_have_no_band(analysed):
    document = analysed(trial_of_rows(rows(in_vhf=1, in_uhf=1), region="japan"))
    assert [band["rf_channels"] for band in document["bands"]] == [["27", "33"]]
    assert [channel["band"] for channel in document["channels"]] == ["UHF", "UHF", None, None]


def test_bands_that_favour_different_elements_are_told(analysed):
    document = analysed(trial_of_rows(rows(in_vhf=1, in_uhf=-1), region="europe"))
    (pair,) = evidence(document, "bands-disagree")["pairs"]
    assert (pair["first"], pair["second"]) == ("a", "b")
    here, there = pair["bands"]
    assert evidence(document, "bands-disagree")["level"] == pytest.approx(0.99)  # one pair, two bands
    assert (here["band"], there["band"]) == ("VHF-high", "UHF")
    assert here["low"] > 0 > there["high"]


@pytest.mark.parametrize(
    ("in_vhf", "in_uhf"), [(1.0, 0.0), (1.0, 0.4), (0.0, -1.0)], ids=["one only", "both alike", "other only"]
)
def test_bands_that_merely_differ_do_not_disagree(analysed, in_vhf, in_uhf):
    document = analysed(trial_of_rows(rows(in_vhf=in_vhf, in_uhf=in_uhf), region="europe"))
    assert "bands-disagree" not in codes(document)


def test_a_single_band_cannot_disagree_with_itself(analysed):
    scores = noisy_scores({"a": 20.0, "b": 18.0}, rounds=6, sd=0.2)
    assert "bands-disagree" not in codes(analysed(made_trial(scores, region="europe")))
