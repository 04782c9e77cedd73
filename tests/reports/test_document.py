"""Look-ups in the analysis document, and what a stranger's names may not do."""

import pytest

from reports import document as doc
from tests.reports import sample_documents as samples


@pytest.mark.parametrize(
    ("given", "printed"),
    [
        ("plain", "plain"),
        ("two\nlines\tand tab", "two lines and tab"),
        ("esc\x1b[31m", "esc\N{REPLACEMENT CHARACTER}[31m"),
        ("nul\x00", "nul\N{REPLACEMENT CHARACTER}"),
        ("turned\u202etxt", "turned\N{REPLACEMENT CHARACTER}txt"),
        ("lone \ud800", "lone \N{REPLACEMENT CHARACTER}"),
        (13, "13"),
    ],
)
def test_names_are_printed_without_control_and_direction_marks(given, printed):
    assert doc.clean(given) == printed


def test_two_elements_of_one_label_are_told_apart_by_their_ids():
    document = samples.two_elements()
    for entry in document["elements"]:
        entry["label"] = "rod"
    assert doc.labels(document) == {"brass-3": "rod (brass-3)", "bronze-13": "rod (bronze-13)"}


def test_an_empty_label_gives_way_to_the_id():
    document = samples.two_elements()
    document["elements"][0]["label"] = "  "
    assert doc.labels(document)["brass-3"] == "brass-3"


def test_the_ranking_holds_those_that_compete_best_first():
    document = samples.six_elements()
    ranks = [entry["rank"] for entry in doc.ranked(document)]
    assert ranks == [1, 2, 3, 4]
    assert [entry["role"] for entry in doc.controls(document)] == ["twin", "pad"]


def test_signals_left_out_do_not_count_as_used():
    document = samples.all_at_ceiling()
    assert len(doc.all_signals(document)) == 4
    document["read_as"]["left_out"] = document["read_as"]["left_out"][:1]
    assert doc.signals(document) == doc.all_signals(document)[1:]


def test_unknown_names_are_an_error_and_not_a_blank():
    document = samples.two_elements()
    with pytest.raises(KeyError):
        doc.element(document, "gold")
    with pytest.raises(KeyError):
        doc.pair(document, "brass-3", "gold")
