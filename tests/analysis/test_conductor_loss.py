"""What metal alone could explain, as it stands in the analysis document."""

import pytest

from tests.analysis.made_trials import made_trial, noisy_scores

SCORES = noisy_scores({"a": 18.0, "b": 20.0, "c": 17.9}, rounds=6, sd=0.2)
SHAPE = {"diameter_mm": 2.0, "length_mm": 600.0}
ELEMENTS = [
    {"id": "a", "material": "copper", **SHAPE},
    {"id": "b", "material": "brass", **SHAPE},
    {"id": "c", "material": "phosphor bronze", **SHAPE},
]


def loss(analysed, *, elements=ELEMENTS, **fields):
    return analysed(made_trial(SCORES, elements=elements, **{"region": "europe"} | fields))["conductor_loss"]


def without(place, field):
    return [
        {name: value for name, value in entry.items() if index != place or name != field}
        for index, entry in enumerate(ELEMENTS)
    ]


def test_the_leader_is_held_against_each_other_element(analysed):
    found = loss(analysed)
    assert found["leader"] == "b"
    assert [pair["element"] for pair in found["pairs"]] == ["a", "c"]
    assert [(row["element"], row["rf_channel"]) for row in found["rows"]] == [
        (name, number) for name in "ac" for number in ("21", "22", "23", "24")
    ]
    assert [row["frequency_mhz"] for row in found["rows"][:4]] == [474, 482, 490, 498]


def test_differences_are_those_of_the_leader_whichever_stands_first(analysed):
    document = analysed(made_trial(SCORES, elements=ELEMENTS, region="europe"))
    first, second = document["conductor_loss"]["pairs"]
    pairs = {(pair["first"], pair["second"]): pair for pair in document["pairs"]}
    assert first["difference"] == pytest.approx(-pairs["a", "b"]["difference"])
    assert (first["low"], first["high"]) == pytest.approx(
        (-pairs["a", "b"]["interval"]["high"], -pairs["a", "b"]["interval"]["low"])
    )
    assert second["difference"] == pairs["b", "c"]["difference"]
    assert first["low"] < first["difference"] < first["high"]


def test_a_metal_that_loses_more_is_below_zero_for_the_leader(analysed):
    rows = loss(analysed)["rows"]
    assert all(row["metal_difference_db"] < 0 for row in rows if row["element"] == "a")
    assert all(row["metal_difference_db"] > 0 for row in rows if row["element"] == "c")
    assert all(abs(row["metal_difference_db"]) <= row["metal_difference_bound_db"] for row in rows)


def test_the_bound_of_a_pair_is_the_mean_over_the_signals_of_the_score(analysed):
    found = loss(analysed)
    bounds = [row["metal_difference_bound_db"] for row in found["rows"] if row["element"] == "a"]
    assert found["pairs"][0]["metal_bound_db"] == pytest.approx(sum(bounds) / len(bounds))
    assert found["pairs"][0]["every_rf_channel"] is True


def test_where_a_frequency_is_not_known_the_largest_of_the_others_counts(analysed):
    """Japan's plan goes to 52; the made RF channels are 21 to 40."""
    made = made_trial(SCORES, signals=30, elements=ELEMENTS, region="europe")
    found = analysed(made)["conductor_loss"]
    bounds = [row["metal_difference_bound_db"] for row in found["rows"] if row["element"] == "a"]
    assert len(bounds) == 28
    assert found["pairs"][0]["every_rf_channel"] is False
    assert found["pairs"][0]["metal_bound_db"] == max(bounds)


def test_metals_are_told_with_source_and_status(analysed):
    metals = {entry["name"]: entry for entry in loss(analysed)["materials"]}
    assert set(metals) == {"copper", "brass", "phosphor bronze"}
    assert metals["phosphor bronze"]["status"] == "memory"


@pytest.mark.parametrize(
    ("field", "told"), [("material", "material"), ("diameter_mm", "diameter_mm"), ("length_mm", "length_mm")]
)
def test_an_element_of_which_too_little_is_known_is_named_with_what_is_wanting(analysed, field, told):
    found = loss(analysed, elements=without(2, field))
    assert [pair["element"] for pair in found["pairs"]] == ["a"]
    assert found["not_known"] == [{"element": "c", "wanting": [told]}]


@pytest.mark.parametrize("field", ["material", "diameter_mm", "length_mm"])
def test_where_too_little_is_known_of_the_leader_there_is_none(analysed, field):
    assert loss(analysed, elements=without(1, field)) is None


def test_without_a_region_or_without_its_rf_channels_there_is_none(analysed):
    assert loss(analysed, region=None) is None
    assert loss(analysed, region="north_america") is not None
    assert analysed(made_trial(SCORES, signals=4, region="europe"))["conductor_loss"] is None


def test_metals_of_unknown_permeability_are_told_by_their_ends(analysed):
    elements = [ELEMENTS[0] | {"material": "steel"}, *ELEMENTS[1:]]
    (row, *_) = loss(analysed, elements=elements)["rows"]
    assert row["metal_difference_db"] is None
    assert 0 < row["metal_difference_range_db"]["low"] < row["metal_difference_range_db"]["high"]
    assert row["valid"] is True
