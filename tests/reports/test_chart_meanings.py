"""What pictures mean is told by shape, sign and word and can be read without colour; contrast."""

import io
import struct
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest

from reports import charts
from reports.charts import gains, grid, palette, rounds
from reports.charts.letters import SMALL, width_of
from reports.charts.pictures import GainRow, Gains, Grid, Line, Meeting, Rounds
from reports.view.rounds import MOST_LINES
from tests.reports.contrast import contrast
from tests.reports.drawn import words
from tests.reports.sample_pictures import PICTURES

MARKED = Rounds(
    (1, 2, 3, 4),
    (Line("brass", (5.0, None, 5.4, 5.2), struck=(2,)), Line("zinc", (4.0, 4.9, 4.1, 4.0), odd=(2,))),
    "bars",
    "cross: taken out",
    "ring: out of line",
)


def grid_of(count: int) -> Grid:
    def meeting(row: int, column: int) -> Meeting:
        if row == column:
            return Meeting("none", "", "")
        mark = ("better", "worse", "as good", "open")[(row + column) % 4]
        return Meeting(mark, mark, "+0.50")

    names = tuple(f"element {number}" for number in range(count))
    return Grid(names, tuple(tuple(meeting(r, c) for c in range(count)) for r in range(count)), ("legend",))


def grey(picture) -> np.ndarray:
    """The picture as lightness by pixel, colours gone (ITU-R BT.601 weights, from memory)."""
    from matplotlib.image import imread

    dots = imread(io.BytesIO(charts.png(picture, width=180.0, description="")), format="png")
    return dots[..., :3] @ np.array([0.299, 0.587, 0.114])


def test_text_stands_out_by_four_and_a_half_and_what_is_drawn_by_three():
    """W3C, Web Content Accessibility Guidelines 2.1, 1.4.3 and 1.4.11 (from memory)."""
    for under in (palette.PAPER, palette.BAND, palette.TILE_HIGH, palette.TILE_LOW):
        assert contrast(palette.INK, under) >= 4.5
    assert contrast(palette.QUIET, palette.PAPER) >= 4.5
    for drawn in (palette.INK, palette.COPPER, palette.HATCH, *palette.LINES):
        assert contrast(drawn, palette.PAPER) >= 3.0
    for drawn in (palette.INK, palette.COPPER, palette.HATCH):
        assert contrast(drawn, palette.BAND) >= 3.0


@pytest.mark.parametrize(("count", "kind"), [(4, "word"), (7, "word"), (14, "sign and number")])
def test_each_tile_of_a_pair_is_told_by_word_or_sign_and_by_number(count, kind):
    texts = words(grid_of(count))
    tiles = count * (count - 1)
    said = {"better", "worse", "as good", "open"} if kind == "word" else {*"+=?", "\N{MINUS SIGN}"}
    assert sum(text in said for text in texts) == tiles
    assert texts.count("+0.50") == tiles


def test_tiles_too_narrow_for_a_word_of_the_language_hold_signs():
    """Words for all tiles or for none: a picture in which some hold a sign could be taken for two scales."""
    picture = grid_of(7)
    long = [
        replace(one, word="as good as one another") if one.mark == "as good" else one
        for one in picture.rows[0]
    ]
    texts = words(replace(picture, rows=(tuple(long), *picture.rows[1:])))
    assert {"better", "worse", "as good", "as good as one another"} & set(texts) == set()
    assert sum(text in {*"+=?", "\N{MINUS SIGN}"} for text in texts) == 42


def test_the_smallest_tiles_hold_the_sign_alone_in_ink():
    """Rows of twenty stand 4.4 mm apart below the letters; six dots a millimetre, names at the left."""
    picture = grid_of(20)
    assert "+0.50" not in words(picture)
    dots, left = grey(picture), int((width_of("element 10", SMALL) + 7.0) * 6)
    cell = (1080 - 3 - left) / 20
    for column in (1, 2, 3, 4):  # a tile of each kind in the first row
        tile = dots[30:56, int(left + cell * column) + 4 : int(left + cell * (column + 1)) - 4]
        assert tile.min() < 0.3, column


def test_the_four_kinds_of_tile_differ_in_pattern_or_lightness_when_colours_are_gone():
    def tile(mark: str) -> np.ndarray:
        row = (Meeting(mark, "", ""), Meeting(mark, "", ""))
        dots = grey(Grid(("", ""), (row, row), ()))
        return dots[34:114, 48:324]

    def looks(mark: str) -> np.ndarray:
        """Mean lightness, its spread, and that from row to row: level lines lie in rows, slanted do not."""
        dots = tile(mark)
        return np.array([dots.mean(), dots.std(), dots.mean(axis=1).std()])

    told = {mark: looks(mark) for mark in ("better", "worse", "as good", "open")}
    for one, other in combinations(told, 2):
        assert np.abs(told[one] - told[other]).max() > 0.03, (one, other, told)


def test_signs_of_tiles_differ():
    assert len(set(grid.SIGNS.values())) == len(grid.SIGNS)


def test_taken_out_and_odd_runs_are_marked_and_the_marks_are_explained():
    texts = words(MARKED)
    assert {"cross: taken out", "ring: out of line"} <= set(texts)
    plain = replace(
        MARKED,
        lines=tuple(replace(line, struck=(), odd=()) for line in MARKED.lines),
        struck_says="",
        odd_says="",
    )
    assert "cross: taken out" not in words(plain)
    assert charts.svg(MARKED, width=92, text_as="text") != charts.svg(plain, width=92, text_as="text")


def test_a_run_taken_out_is_drawn_between_its_neighbours_and_never_as_a_reading():
    assert rounds._between({1: 4.0, 2: None, 3: 6.0}, 2) == 5.0
    assert rounds._between({1: None, 2: 6.0}, 1) == 6.0
    assert rounds._between({1: None}, 1) is None


def test_gains_and_losses_are_written_as_numbers_and_differ_in_filling():
    picture = Gains((1, 2, 3), (GainRow("zinc", ((2, 0), (0, 3), None)),), "gained on brass", "lost to brass")
    for width in (180.0, 92.0):
        texts = words(picture, width)
        assert {"+2", "\N{MINUS SIGN}3", "\N{EN DASH}", "gained on brass", "lost to brass"} <= set(texts)
        assert "+0" not in texts
    assert contrast(gains._LOOKS["gained"]["facecolor"], gains._LOOKS["lost"]["facecolor"]) >= 3.0


@pytest.mark.parametrize("name", PICTURES)
def test_a_picture_to_send_is_the_same_bytes_and_says_in_words_what_it_shows(name):
    made = charts.png(PICTURES[name], width=180.0, description="what it shows \N{MINUS SIGN} in words")
    assert made == charts.png(
        PICTURES[name], width=180.0, description="what it shows \N{MINUS SIGN} in words"
    )
    assert b"Description" in made
    assert "what it shows \N{MINUS SIGN} in words".encode() in made
    assert struct.unpack(">I", made[16:20]) == (1080,)


def test_as_many_lines_are_drawn_as_there_are_marks_to_tell_them_apart():
    assert len(set(rounds._MARKS)) == len(rounds._MARKS) >= MOST_LINES
