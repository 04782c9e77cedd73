"""Could the metal explain this? In plain words, with a picture, from the document alone."""

import pytest

from reports.charts.pictures import Metals
from reports.html import BOUNDS
from reports.view import metal as view
from reports.view.model import Image
from reports.wording import cautions, metal
from reports.wording.speech import speech_of
from tests.reports import sample_documents as samples
from tests.reports.sample_metal import with_metals


def section(document):
    """The section, with the pictures that it had drawn."""
    drawn = []

    def draw(picture):
        drawn.append(picture)
        return Image("data:,", ())

    return view.sections(speech_of(document), draw, BOUNDS), drawn


def with_pair(**changes):
    document = with_metals()
    document["conductor_loss"]["pairs"][0] |= changes
    return document


def first_answer(**changes):
    return metal.answers(speech_of(with_pair(**changes)))[0]


def test_without_the_part_there_is_no_section():
    assert section(samples.six_elements()) == ((), [])


def test_the_section_holds_a_sentence_a_pair_a_picture_and_where_the_numbers_come_from():
    ((found,), drawn) = section(with_metals())
    assert found.title == "Could the metal explain this?"
    assert len([text for text in found.paragraphs if "the metals can make" in text]) == 2
    assert any("joint at the feed point" in text for text in found.paragraphs)
    (picture,) = drawn
    assert isinstance(picture, Metals)
    signals, materials = found.tables
    assert len(signals.rows) == 4
    assert [(row.head.text, row.cells[-1].text) for row in materials.rows] == [
        ("zinc", "secondary"), ("brass", "secondary (range)"), ("phosphor bronze", "memory"),
    ]  # fmt: skip
    assert materials.notes == ("phosphor bronze: Phosphor bronze with less tin has less resistance.",)


def test_a_metal_without_a_code_stands_as_the_document_has_it():
    document = with_metals()
    for entry in document["conductor_loss"]["materials"]:
        del entry["code"]
        entry |= {"source": f"an old table of {entry['name']}", "note": ""}
    ((found,), _) = section(document)
    materials = found.tables[1]
    assert [row.cells[1].text for row in materials.rows] == [
        "an old table of zinc", "an old table of brass", "an old table of phosphor bronze",
    ]  # fmt: skip
    assert materials.notes == ()


@pytest.mark.parametrize(
    ("difference", "outcome", "words"),
    [
        (1.5, "clear winner", "The metal does not explain it"),
        (0.08, "clear winner", "The metal could explain a part of it, not all."),
        (0.03, "clear winner", "The metal could explain it."),
        (0.03, "needs more runs", "not settled, so there is nothing to explain"),
        (0.03, "within noise", "not settled, so there is nothing to explain"),
    ],
)
def test_each_pair_is_answered_in_plain_words(difference, outcome, words):
    said = first_answer(difference=difference, low=difference - 0.01, high=difference + 0.01, outcome=outcome)
    assert words in said
    assert "the metals can make 0.033 dB at most" in said


def test_a_bar_is_never_held_against_a_decibel():
    document = with_metals(in_decibels=False)
    *said, last = metal.answers(speech_of(document))
    assert last.startswith("The meter shows no decibels")
    assert len(said) == len(document["conductor_loss"]["pairs"])
    assert not any("differ by" in one or "no decibels" in one for one in said)
    _, (picture,) = section(document)
    assert {row.value for row in picture.metals} == {row.low for row in picture.metals} == {None}


def test_one_metal_explains_nothing_and_is_not_drawn():
    document = with_pair(metal_bound_db=0.0)
    assert "of one metal: it explains nothing" in metal.answers(speech_of(document))[0]
    _, (picture,) = section(document)
    assert len(picture.metals) == 1


def test_a_bound_too_small_to_print_is_told_as_under_the_smallest():
    assert "under 0.001 dB at most" in first_answer(metal_bound_db=0.0004)


def test_where_a_formula_does_not_hold_it_is_said_with_the_reason():
    document = with_metals()
    document["conductor_loss"]["rows"][0] |= {"valid": False, "why": "It is too long."}
    (said,) = metal.validity(speech_of(document))
    assert said == "Only bounds, no numbers, on RF channel 21: It is too long."
    long = {"code": "too-long", "evidence": {"wavelengths": 3.456, "longest": 2.5}}
    document["conductor_loss"]["rows"][0]["reasons"] = [long, {"code": "not-thick", "evidence": {}}]
    (said,) = metal.validity(speech_of(document))
    assert said.startswith(
        "Only bounds, no numbers, on RF channel 21: The conductor is 3.46 wavelengths long; the formula "
        "holds to 2.5. The conductor is not several skin depths"
    )
    assert metal.validity(speech_of(with_metals())) == []


def test_elements_left_out_are_named_with_what_is_wanting():
    document = with_metals(not_known=[{"element": "zinc-12", "wanting": ["diameter_mm", "length_mm"]}])
    (said,) = metal.not_known(speech_of(document))
    assert "zinc-coated steel wire (its diameter and its length)" in said


def test_signals_without_a_frequency_are_told():
    assert "largest of those known" in metal.basis(speech_of(with_pair(every_rf_channel=False)))
    assert "largest of those known" not in metal.basis(speech_of(with_metals()))


@pytest.mark.parametrize("form", ["html", "pdf"])
def test_reports_carry_it(form, html, pdf_pages):
    text = html("metals") if form == "html" else " ".join(" ".join(pdf_pages("metals")).split())
    assert "Could the metal explain this?" in text
    assert "The metal does not explain it" in text


def test_what_the_diameter_of_a_strip_is_taken_for_is_said_where_one_is_named():
    document = with_metals()
    first, second = (entry["id"] for entry in document["trial"]["elements"][:2])
    evidence = {"pairs": [{"first": first, "second": second, "diameter": 0.2, "length": None}]}
    plain = cautions.message(speech_of(document), "geometry-differs", evidence)
    document["trial"]["elements"][1]["form"] = "strip"
    said = cautions.message(speech_of(document), "geometry-differs", evidence)
    assert "A flat strip counts as a round wire of half its width." in said
    assert "strip" not in plain
