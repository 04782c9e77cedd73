"""What pictures are made of: each says in words what it shows, and shows what is so."""

import numpy as np

from reports import document as doc
from reports import pdf
from reports.charts import pictures as of
from reports.html import BOUNDS
from reports.view import gains, grid, narrowing, report_view, rounds
from reports.view.model import Image
from reports.wording import complete
from reports.wording.speech import speech_of
from tests.reports import sample_documents as samples
from tests.reports.conftest import MAKERS
from tests.reports.drawn import drawings
from tests.reports.sample_parts import caution, trial_document

HEBREW = "\u05de\u05d5\u05d8 \u05e0\u05d7\u05d5\u05e9\u05ea"


def figure(section, document):
    """The one figure that a view makes, and the picture that was drawn."""
    drawn = []

    def draw(picture):
        drawn.append(picture)
        return Image("", ())

    (made,) = section(speech_of(complete(document)), draw)
    return made, drawn[0]


def nothing(section, document) -> bool:
    return section(speech_of(complete(document)), lambda _: Image("", ())) == ()


def test_every_pair_is_a_tile_seen_from_both_sides():
    document = samples.six_elements()
    made, picture = figure(grid.figure, document)
    ids = [entry["id"] for entry in doc.in_order(document)]
    mirror = {"better": "worse", "worse": "better", "as good": "as good", "open": "open", "none": "none"}
    for row, one in enumerate(ids):
        for column, other in enumerate(ids):
            tile, turned = picture.rows[row][column], picture.rows[column][row]
            assert turned.mark == mirror[tile.mark]
            if one != other:
                pair = doc.pair(document, one, other)
                assert (tile.mark == "better") == (pair["winner"] == one)
                assert (tile.mark == "open") == (pair["outcome"] == doc.MORE)
                assert (tile.mark == "as good") == (pair["outcome"] == doc.WITHIN)
                assert tile.printed.lstrip("+\N{MINUS SIGN}") == turned.printed.lstrip("+\N{MINUS SIGN}")
    better = sum(pair["winner"] == ids[0] for pair in document["pairs"])
    assert f"{picture.names[0]}: better than {better}, worse than 0," in made.alt


def test_of_many_elements_the_first_twenty_are_tiles():
    names = [f"element {number}" for number in range(30)]
    trial = trial_document(elements=names, channels=4)
    document = samples.document(trial, samples.readings([0.02 * n for n in range(30)], rounds=3, channels=4))
    made, picture = figure(grid.figure, document)
    assert len(picture.names) == len(picture.rows) == 20
    assert made.caption.endswith("Drawn: the first 20 of 30.")
    assert nothing(grid.figure, samples.two_elements())
    assert nothing(grid.figure, MAKERS["all at ceiling"]())


def test_the_looks_are_drawn_in_order_and_the_one_that_decided_is_marked():
    document = samples.six_elements()
    made, picture = figure(narrowing.figure, document)
    taken = document["looks"]["taken"]
    assert [(bar.value, bar.low, bar.high) for bar in picture.bars] == [
        (look["difference"], look["low"], look["high"]) for look in taken
    ]
    decided = document["verdict"]["decided_at_round"]
    assert [bar.mark for bar in picture.bars] == [
        "lead" if look["round"] == decided else "plain" for look in taken
    ]
    assert picture.bars[-1].says == "clear winner, decided"
    assert f"the diamond marks round {decided}, which decided" in made.caption
    for look in taken:
        assert f"after round {look['round']}, " in made.alt
    open_, _ = figure(narrowing.figure, MAKERS["not settled"]())
    assert "none has decided yet" in open_.caption
    assert nothing(narrowing.figure, MAKERS["one round"]())
    assert nothing(narrowing.figure, MAKERS["one element"]())


def test_of_many_looks_the_latest_and_the_one_that_decided_are_drawn():
    document = samples.two_elements(rounds=20)
    document["verdict"]["decided_at_round"] = 4
    made, picture = figure(narrowing.figure, document)
    assert len(picture.bars) == 14
    assert (picture.bars[0].mark, picture.bars[-1].name.partition(":")[0]) == ("lead", "round 20")
    assert made.caption.endswith("Drawn: 14 of 18 looks.")


def test_the_names_stand_in_each_row_where_the_rival_changed():
    document = samples.six_elements()
    document["looks"]["taken"][0]["second"] = "steel-14"
    _, picture = figure(narrowing.figure, document)
    assert picture.bars[0].name == "round 3: 3 mm brass rod"
    assert picture.bars[0].minus == "stainless steel wire"
    assert picture.axis.startswith("leader")


def test_gains_and_losses_are_those_of_the_document_round_by_round():
    document = samples.six_elements()
    entry = document["reception"]["elements"][1]
    entry["by_round"][1]["gained"] = 2
    del entry["by_round"][4]
    made, picture = figure(gains.figure, document)
    rows = {row.name: row.counts for row in picture.rows}
    assert rows["bronze wire, 13 gauge"] == ((0, 0), (2, 0), (0, 0), (0, 0), None, (0, 0))
    assert rows["brass rod with pad"][-1] == (0, 1)
    assert "bronze wire, 13 gauge: 2 gained, 0 lost; brass rod with pad: 0 gained, 3 lost" in made.alt
    assert "Neither gained nor lost any:" in made.caption
    assert nothing(gains.figure, samples.two_elements())
    assert nothing(gains.figure, MAKERS["one round"]())


def test_struck_and_odd_runs_are_marked_on_their_line_and_told_in_words():
    odd = caution(
        "odd-run", "warning", runs=[{"element": "zinc-12", "round": 3}], deviation=2.0, sd=0.3, p_value=0.001
    )
    struck = [{"element": "bronze-13", "round": 2, "reason": "gust"}]
    document = samples.six_elements(cautions=(odd,), struck=struck)
    entry = next(one for one in document["elements"] if one["id"] == "bronze-13")
    entry["round_scores"] = [one for one in entry["round_scores"] if one["round"] != 2]
    drawn = []
    speech = speech_of(complete(document))
    section = rounds.section(speech, lambda picture: drawn.append(picture) or Image("", ()), pdf.BOUNDS)
    lines = {line.name: line for line in drawn[0].lines}
    assert lines["bronze wire, 13 gauge"].struck == (2,)
    assert lines["zinc-coated steel wire"].odd == (3,)
    assert drawn[0].struck_says
    assert drawn[0].odd_says
    alt = section.figures[0].alt
    assert "bronze wire, 13 gauge in round 2: taken out." in alt
    assert "zinc-coated steel wire in round 3: out of line." in alt


def test_every_picture_of_every_trial_is_drawn_at_both_widths_and_is_no_blank(html, sample_name):
    asked = []
    report_view(complete(MAKERS[sample_name]()), lambda one: asked.append(one) or Image("", ()), BOUNDS)
    drawn = drawings(html(sample_name))
    assert asked
    assert len(drawn) == 2 * len(asked)
    for made in drawn:
        assert made.count('<g id="text_') >= 3
        assert "nan" not in made.lower()


def test_a_picture_with_names_from_right_to_left_is_outlined_in_the_pdf():
    bar = of.Bar(doc.clean(HEBREW), "brass", 0.5, 0.2, 0.8, "clear winner", "plain")
    image = pdf.draw(of.Pairs((bar,), (-0.5, 0.5), "margin", "bars"))
    plain = pdf.draw(
        of.Pairs((of.Bar("zinc", "brass", 0.5, 0.2, 0.8, "", "plain"),), (-0.5, 0.5), "m", "bars")
    )
    assert [b"<text" in _bytes(one.src) for one in (image, plain)] == [False, True]


def _bytes(address: str) -> bytes:
    from base64 import b64decode

    return b64decode(address.partition("base64,")[2])


def test_of_more_elements_than_any_table_holds_the_pdf_prints_less_of_each():
    names = [f"element {number}" for number in range(pdf.MANY + 1)]
    document = samples.document(trial_document(elements=names, channels=2), np.full((len(names), 2, 2), 5.0))
    assert pdf._bounds(document) == pdf.SHORT
    assert pdf._bounds(samples.six_elements()) == pdf.BOUNDS
    assert pdf.SHORT.rows < pdf.BOUNDS.rows
