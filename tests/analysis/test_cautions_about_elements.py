"""Cautions about the elements: shapes, gauges, and differences beyond any metal; raised and just not."""

import pytest

from tests.analysis.made_trials import BARS, made_trial, noisy_scores
from tests.analysis.read_document import codes, evidence

FAR = noisy_scores({"a": 20.0, "b": 18.0, "c": 17.9}, rounds=6, sd=0.2)
METAL = ("geometry-differs", "several-things-differ", "gauge-table-unknown", "beyond-conductor-loss")


def elements(**changes):
    """Three elements of one shape; `changes` are those of b."""
    shape = {"diameter_mm": 2.0, "length_mm": 600.0}
    return [
        {"id": "a", "material": "copper", **shape},
        {"id": "b", "material": "brass", **shape} | changes,
        {"id": "c", "material": "copper", **shape},
    ]


def trial(changes=None, *, scores=FAR, **fields):
    return made_trial(scores, elements=elements(**(changes or {})), **{"region": "europe"} | fields)


def test_elements_of_one_shape_raise_nothing_about_it(analysed):
    found = codes(analysed(trial()))
    assert not {"geometry-differs", "several-things-differ", "gauge-table-unknown"} & set(found)


@pytest.mark.parametrize(("diameter", "raised"), [(2.11, True), (2.1, False), (1.9, True), (2 / 1.05, False)])
def test_diameters_may_differ_by_a_twentieth(analysed, diameter, raised):
    document = analysed(trial({"diameter_mm": diameter}))
    assert ("geometry-differs" in codes(document)) is raised
    assert ("several-things-differ" in codes(document)) is raised
    if raised:
        pairs = evidence(document, "geometry-differs")["pairs"]
        assert [(pair["first"], pair["second"]) for pair in pairs] == [("a", "b"), ("b", "c")]
        assert pairs[0]["diameter"] == pytest.approx(max(diameter, 2) / min(diameter, 2) - 1)
        assert pairs[0]["length"] is None
        assert evidence(document, "several-things-differ")["pairs"] == [["a", "b"], ["b", "c"]]


@pytest.mark.parametrize(("length", "raised"), [(603.1, True), (603.0, False), (597.0, True), (597.1, False)])
def test_lengths_may_differ_by_half_a_hundredth(analysed, length, raised):
    document = analysed(trial({"length_mm": length}))
    assert ("geometry-differs" in codes(document)) is raised
    assert "several-things-differ" not in codes(document)


@pytest.mark.parametrize(("width", "raised"), [(4.0, False), (4.3, True), (2.0, True)])
def test_a_strip_is_held_against_wires_by_half_its_width(analysed, width, raised):
    document = analysed(trial({"form": "strip", "diameter_mm": width}))
    assert ("geometry-differs" in codes(document)) is raised


def test_shapes_of_one_metal_may_differ(analysed):
    found = codes(analysed(trial({"material": "Annealed copper", "diameter_mm": 4.0, "length_mm": 700.0})))
    assert not set(METAL) & set(found)


def test_a_coating_makes_another_metal(analysed):
    assert "geometry-differs" in codes(
        analysed(trial({"material": "copper", "coating": "tin 5 um", "diameter_mm": 4}))
    )


def test_a_metal_that_no_table_knows_is_still_another_metal(analysed):
    assert "geometry-differs" in codes(analysed(trial({"material": "bronze", "diameter_mm": 4})))


def test_a_diameter_by_gauge_counts(analysed):
    document = analysed(trial({"diameter_mm": None, "gauge": {"table": "swg", "number": 13}}))
    assert evidence(document, "several-things-differ")["pairs"] == [["a", "b"], ["b", "c"]]


def test_a_bare_gauge_number_is_told_with_what_it_may_mean(analysed):
    document = analysed(trial({"diameter_mm": None, "gauge": {"number": 13}}))
    (entry,) = evidence(document, "gauge-table-unknown")["elements"]
    assert (entry["element"], entry["number"]) == ("b", 13)
    assert [meaning["table"] for meaning in entry["meanings"]] == ["awg", "steel wire", "swg", "birmingham"]
    assert "geometry-differs" not in codes(document)


@pytest.mark.parametrize("changes", [{"gauge": {"table": "awg", "number": 13}}, {"gauge": {"number": 13}}])
def test_a_gauge_with_its_table_or_a_diameter_is_no_bare_number(analysed, changes):
    changes = changes | ({"diameter_mm": None} if changes["gauge"].get("table") else {})
    assert "gauge-table-unknown" not in codes(analysed(trial(changes)))


def test_a_clear_difference_that_no_metal_makes_is_told(analysed):
    document = analysed(trial())
    (pair,) = evidence(document, "beyond-conductor-loss")["pairs"]
    assert (pair["first"], pair["second"]) == ("a", "b")
    assert pair["difference"] > 10 * pair["metal_bound_db"] > 0


def bound(analysed, **fields):
    document = analysed(trial(**fields))
    return next(p for p in document["conductor_loss"]["pairs"] if p["element"] == "b")["metal_bound_db"]


@pytest.mark.parametrize(("times", "raised"), [(10.4, True), (9.6, False)])
def test_it_takes_over_ten_times_what_the_metals_can_make(analysed, times, raised):
    """Hardly any noise, so that the difference is that which was put in and clear either way."""
    difference = times * bound(analysed)
    scores = noisy_scores({"a": 20.0, "b": 20.0 - difference, "c": 17.0}, rounds=6, sd=0.001)
    document = analysed(trial(scores=scores, margin=0.01))
    assert document["verdict"]["winner"] == "a"
    assert ("beyond-conductor-loss" in codes(document)) is raised


def test_a_difference_that_is_not_clear_is_beyond_nothing(analysed):
    scores = noisy_scores({"a": 20.0, "b": 19.0, "c": 17.0}, rounds=6, sd=2.0)
    document = analysed(trial(scores=scores))
    assert document["verdict"]["outcome"] == "needs more runs"
    assert "beyond-conductor-loss" not in codes(document)


def test_of_one_metal_there_is_nothing_to_explain(analysed):
    assert "beyond-conductor-loss" not in codes(analysed(trial({"material": "copper"})))


def test_a_bar_is_never_held_against_a_decibel(analysed):
    scores = noisy_scores({"a": 6.0, "b": 4.0, "c": 3.9}, rounds=6, sd=0.05)
    document = analysed(trial(scores=scores, meter=BARS | {"resolution": 0.001}, margin=0.1))
    assert document["conductor_loss"]["in_decibels"] is False
    assert "beyond-conductor-loss" not in codes(document)


@pytest.mark.parametrize("compares", ["height", "aim", "site", "cable", "transformer", "joint"])
def test_where_no_elements_are_compared_all_of_them_are_silent(analysed, compares):
    changes = {"diameter_mm": 4.0, "length_mm": 700.0}
    assert {"geometry-differs", "several-things-differ", "beyond-conductor-loss"} <= set(
        codes(analysed(trial(changes)))
    )
    silent = analysed(trial(changes, compares=compares))
    bare = analysed(trial({"diameter_mm": None, "gauge": {"number": 13}}, compares=compares))
    assert not set(METAL) & {*codes(silent), *codes(bare)}
    assert silent["conductor_loss"] is None


def test_spare_copies_and_weakeners_are_no_elements_to_compare_shapes_of(analysed):
    made = made_trial(
        FAR,
        elements=[
            {"id": "a", "material": "copper", "diameter_mm": 2.0},
            {"id": "b", "material": "copper", "diameter_mm": 2.0},
            {"id": "c", "twin_of": "a", "material": "brass", "diameter_mm": 3.0},
        ],
    )
    assert "geometry-differs" not in codes(analysed(made))
