"""The picture of the error rates: its legend has room for longer words, and nothing covers its marks."""

import io
import re
from dataclasses import replace
from itertools import groupby, pairwise

import numpy as np
import pytest

from reports import charts
from reports.charts import palette
from reports.charts.letters import SMALL, width_of
from reports.charts.pictures import Rate, Rates
from tests.reports import drawn

SHORT = Rates(
    tuple(Rate(f"noise number {number}", (5.0, 40.0 + number), (0.0, 45.0)) for number in range(3)),
    *(50.0, "promised: at most 50", "a pair called", "a false winner", "of 1000 trials"),
)
LONG = replace(
    SHORT,
    promise_says="what is promised, of a thousand trials of equals and over all looks together: at most 50",
    called_says="some pair of things that are equally good was called different, which they are not",
    named_says="a winner that is no better than all the others was named at some look of the trial",
)
SAYS = ("called_says", "named_says", "promise_says")
POINTS_A_MM = 72 / 25.4


def texts(picture, width):
    """Each text with its left edge and its line, in millimetres from the upper left corner."""
    for node in drawn.texts(picture, width):
        yield node.text, float(node.get("x")) / POINTS_A_MM, float(node.get("y")) / POINTS_A_MM


def legend(picture, width):
    """The texts above the first name."""
    found = list(texts(picture, width))
    first = next(y for text, _, y in found if text == "noise number 0")
    return [(text, x, y) for text, x, y in found if y < first - 2.0]


@pytest.mark.parametrize("width", [180.0, 92.0])
def test_words_that_are_too_long_for_a_line_go_on_below_and_none_is_cut(width):
    lines = legend(LONG, width)
    assert " ".join(text for text, _, _ in lines) == " ".join(getattr(LONG, name) for name in SAYS)
    assert len(lines) > len(SAYS) or width == 180.0
    for text, x, _ in lines:
        assert x + width_of(text, SMALL) <= width
    heights = [y for _, _, y in lines]
    assert all(below - above >= 3.0 for above, below in pairwise(heights))


@pytest.mark.parametrize("width", [180.0, 92.0])
def test_short_words_of_both_marks_stand_on_one_line(width):
    lines = [[text for text, _, _ in line] for _, line in groupby(legend(SHORT, width), lambda each: each[2])]
    assert lines == [["a pair called", "a false winner"], ["promised: at most 50"]]


def test_the_second_mark_alone_goes_below_where_only_both_are_too_long():
    wide = replace(SHORT, called_says="some pair of equals " * 3, named_says="a false winner " * 3)
    lines = legend(wide, 92.0)
    assert [text for text, _, _ in lines] == [
        wide.called_says.strip(),
        wide.named_says.strip(),
        wide.promise_says,
    ]
    assert len({x for _, x, _ in lines[:2]}) == 1


def test_a_word_longer_than_a_line_is_cut_at_the_edge():
    (text, x, _), *_ = legend(replace(SHORT, called_says="x" * 200), 92.0)
    assert re.fullmatch("x+…", text)
    assert x + width_of(text, SMALL) <= 92.0


def copper(picture):
    """How many dots of a narrow picture have the colour of the first mark."""
    from matplotlib.colors import to_rgb
    from matplotlib.image import imread

    dots = imread(io.BytesIO(charts.png(picture, width=92.0, description="")))[:, :, :3]
    return int((np.abs(dots - to_rgb(palette.COPPER)).max(axis=2) < 0.02).sum())


def test_no_name_covers_a_mark_where_names_stand_above_them():
    bare = replace(SHORT, rates=tuple(replace(rate, name="") for rate in SHORT.rates))
    named = replace(SHORT, rates=tuple(replace(rate, name="noise " * 9) for rate in SHORT.rates))
    assert copper(named) == copper(bare) > 500
