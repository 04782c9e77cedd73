"""The picture to show: its size, as honest as the report, all outcomes in one size, nothing cut off."""

import re
import struct
from dataclasses import replace

import pytest

import reports
from reports import card, charts
from reports import document as doc
from reports.charts.letters import width_of
from reports.view import card as view
from reports.wording import complete
from reports.wording.speech import speech_of
from tests.reports import sample_documents as samples
from tests.reports.conftest import MAKERS
from tests.reports.drawn import texts
from tests.reports.sample_parts import caution, trial_document

SIZES = {"wide": (1920, 1080), "square": (1080, 1080)}
EACH_OUTCOME = {
    doc.CLEAR: samples.two_elements,
    doc.WITHIN: MAKERS["within noise"],
    doc.MORE: MAKERS["not settled"],
}


def pictured(document, shape="wide"):
    return view.picture(speech_of(complete(document)), shape)


def nodes(picture):
    return texts(picture, card.WIDTHS[picture.shape])


def words(picture) -> str:
    return " ".join(node.text for node in nodes(picture))


def size_of(node) -> float:
    return float(re.search(r"font-size: ([\d.]+)px", node.get("style")).group(1))


@pytest.mark.parametrize("shape", SIZES)
@pytest.mark.parametrize("name", MAKERS)
def test_every_trial_has_a_picture_of_the_right_size_that_holds_outcome_and_sentence(name, shape):
    document = complete(MAKERS[name]())
    made = reports.render(document, "card", shape=shape)
    assert made.startswith(b"\x89PNG")
    assert struct.unpack(">II", made[16:24]) == SIZES[shape]
    assert b"Description" in made
    said = f"{document['verdict']['outcome']}: {doc.without_isolates(document['verdict']['statement'])}"
    assert said.encode() in made or said.encode("latin-1") in made
    written = words(pictured(document, shape))
    assert document["verdict"]["outcome"] in written
    assert document["verdict"]["statement"].split(" ")[0] in written


def test_the_same_document_gives_the_same_bytes():
    assert reports.render(samples.two_elements(), "card") == reports.render(samples.two_elements(), "card")


def test_an_unknown_shape_is_refused():
    with pytest.raises(ValueError, match="wide, square"):
        reports.render(samples.two_elements(), "card", shape="round")


@pytest.mark.parametrize("shape", SIZES)
def test_each_outcome_stands_as_large_as_the_others_and_largest_of_all(shape):
    sizes = []
    for outcome, make in EACH_OUTCOME.items():
        found = nodes(pictured(make(), shape))
        (headline,) = [node for node in found if node.text == outcome]
        sizes.append(size_of(headline))
        assert all(size_of(node) < sizes[-1] for node in found if node is not headline)
    assert len(set(sizes)) == 1


@pytest.mark.parametrize("shape", SIZES)
def test_where_a_language_has_a_longer_word_for_one_outcome_all_of_them_are_set_smaller(shape):
    longest = "a longer word for one of the outcomes"
    sizes = []
    for outcome in ("short", longest):
        picture = replace(pictured(samples.two_elements(), shape), outcome=outcome, widest=longest)
        (headline,) = [node for node in nodes(picture) if node.text == outcome]
        sizes.append(size_of(headline))
    room = {"wide": 146.0, "square": 160.0}[shape]
    assert sizes[0] == sizes[1] < 40.0
    assert width_of(longest, sizes[0]) < room


def test_only_a_clear_winner_is_marked_and_nobody_else_is_said_to_lead():
    for outcome, make in EACH_OUTCOME.items():
        picture = pictured(make())
        assert [bar.mark for bar in picture.bars].count("lead") == (outcome == doc.CLEAR)
        assert any(bar.says == "leads" for bar in picture.bars) == (outcome == doc.CLEAR)


def test_a_stopped_trial_marks_nobody_and_names_what_stopped_it_first():
    document = samples.six_elements(cautions=(caution("twin-differs", "stop", pairs_touched=[]),))
    document["verdict"].update(outcome=doc.MORE, winner=None)
    picture = view.picture(speech_of({**complete(samples.six_elements()), **_stopped(document)}), "square")
    assert {bar.mark for bar in picture.bars} == {"plain"}
    assert "Keep in mind: the spare copy came out different" in " ".join(picture.facts)


def _stopped(document):
    verdict = {**document["verdict"], "statement": "No verdict.", "reception_statement": ""}
    return {"verdict": verdict, "cautions": document["cautions"]}


@pytest.mark.parametrize("shape", SIZES)
def test_the_size_of_the_trial_the_margin_the_dates_the_report_and_the_unit_are_written(shape):
    document = samples.six_elements()
    text = words(pictured(document, shape))
    for told in (
        "4 elements and 2 controls, 6 rounds, 36 channels on 24 signals",
        "within 0.5 bars of the highest",
        "12 to 13 May 2026",
        document["provenance"]["report_id"],
        "not decibels, gain or efficiency",
        "(95 %)",
        "Quayside whip trial (invented)",
        "at most 5 of 100 such trials",
    ):
        assert told in text


def test_decibels_are_not_said_to_be_no_decibels():
    text = words(pictured(MAKERS["decibels"]()))
    assert "not gain, efficiency or field strength" in text
    assert "not decibels" not in text


def test_of_many_the_first_few_are_drawn_and_the_rest_is_counted():
    names = [f"element {number} {'w' * 90}" for number in range(64)]
    trial = trial_document(elements=names, channels=4)
    document = samples.document(trial, samples.readings([0.02 * n for n in range(64)], rounds=3, channels=4))
    wide, square = pictured(document), pictured(document, "square")
    assert (len(wide.bars), wide.left_out) == (6, "and 58 more")
    assert (len(square.bars), square.left_out) == (3, "and 61 more")
    for picture in (wide, square):
        written = words(picture)
        assert picture.left_out in written
        for bar in picture.bars:
            assert bar.name.split("\N{HORIZONTAL ELLIPSIS}")[1] in written


@pytest.mark.parametrize("shape", SIZES)
def test_nothing_runs_over_an_edge_however_long_names_and_sentence_are(shape):
    long = "a very long name of a wire that nobody would ever want to read aloud " * 3
    picture = pictured(samples.six_elements(), shape)
    bars = tuple(replace(bar, name=long) for bar in picture.bars)
    stretched = replace(
        picture, title=long, statement=long * 4, bars=bars, foot=long * 3, facts=(*picture.facts, long * 9)
    )
    width = card.WIDTHS[shape]
    to_millimetres = 25.4 / 72
    for node in nodes(stretched):
        size = size_of(node)
        anchored = node.get("style")
        room = width_of(node.text, size)
        x = float(node.get("x")) * to_millimetres
        right = x if "end" in anchored else x + room / 2 if "middle" in anchored else x + room
        assert right <= width - card_edge() + 0.5
        assert 0 <= float(node.get("y")) * to_millimetres <= 180.0


def card_edge() -> float:
    return charts.card.EDGE - 2.0  # numbers of an axis may stand over its end


def test_without_intervals_the_picture_says_so():
    assert "No interval can be given yet" in words(pictured(MAKERS["one round"]()))
    assert "only one element" in words(pictured(MAKERS["one element"]()))
    assert "no interval to draw" in words(pictured(MAKERS["all at ceiling"]()))
