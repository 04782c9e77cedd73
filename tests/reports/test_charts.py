"""Pictures: same bytes, text as text or as outlines, strangers' names as they are, nothing cut or on top."""

import os
import re
import subprocess
import sys
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest

import reports
from reports import charts
from reports.charts import intervals, letters, rounds
from reports.charts.pictures import (
    Bar,
    Card,
    GainRow,
    Gains,
    Grid,
    Line,
    Meeting,
    Metal,
    Metals,
    Narrowing,
    Pairs,
    Ranking,
    Rate,
    Rates,
    Rounds,
    TileRow,
    Tiles,
)

BARS = (
    Bar("brass rod", "", 5.4, None, None, "leads", "lead"),
    Bar("zinc wire", "", 4.9, 4.6, 5.2, "behind the leader", "plain"),
    Bar("spare copy", "", 5.5, None, None, "spare copy of brass rod", "control"),
)
RANKING = Ranking(BARS, (4.9, 5.9), "as good as the best", "average reading (bars)")
PAIRS = Pairs(
    (Bar("brass rod", "zinc wire", 0.5, 0.2, 0.8, "clear winner", "plain"),),
    (-0.5, 0.5),
    "too small to act on",
    "difference (bars)",
)
ROUNDS = Rounds((1, 2, 3), (Line("brass rod", (5.0, None, 5.4)), Line("zinc wire", (5.0, 4.9, 5.4))), "bars")
TILES = Tiles(
    ("brass rod", "zinc wire"),
    (
        TileRow("Harbour One", "27", (7.5, None), ("7.5", "none")),
        TileRow("28", "28", (2.0, 3.0), ("2.0", "3.0")),
    ),
    (2.0, 7.5),
    "mean reading (bars)",
)
METALS = Metals(
    (
        Metal("brass rod", 0.03, 1.5, 1.2, 1.8, "metal: at most 0.03 dB"),
        Metal("zinc wire", 0.4, None, None, None, "metal: at most 0.4 dB"),
    ),
    "what the metals can make at most",
    "bronze wire above the other (dB)",
)
RATES = Rates(
    (Rate("normal", (2.0, 49.0), (0.0, 48.0)), Rate("skewed", (3.0, 90.0), (1.0, 80.0))),
    50.0,
    "promised: at most 50",
    "some pair called",
    "a false winner",
    "of 1000",
)
NONE = Meeting("none", "", "")
GRID = Grid(
    ("brass rod", "zinc wire"),
    ((NONE, Meeting("better", "better", "+0.50")), (Meeting("worse", "worse", "\N{MINUS SIGN}0.50"), NONE)),
    ("better: settled",),
)
NARROWING = Narrowing(
    (
        Bar("round 3", "", 0.5, -0.2, 1.2, "needs more runs", "plain"),
        Bar("round 4", "", 0.6, 0.1, 1.1, "clear winner, decided", "lead"),
    ),
    (-0.5, 0.5),
    "too small to act on",
    "brass rod \N{MINUS SIGN} zinc wire (bars)",
)
GAINS = Gains((1, 2), (GainRow("zinc wire", ((1, 0), (0, 2))),), "gained on brass rod", "lost to brass rod")
CARD = Card(
    shape="square",
    title="a trial",
    outcome="within noise",
    statement="Nothing to choose between brass rod and zinc wire.",
    bars=BARS[:2],
    band=(4.9, 5.9),
    band_says="too small to act on",
    axis="average reading (bars)",
    left_out="and 58 more",
    no_bars="no interval to draw",
    facts=("6 rounds",),
    foot="report AA-1",
)
PICTURES = {
    "grid": GRID,
    "narrowing": NARROWING,
    "gains": GAINS,
    "card": CARD,
    "ranking": RANKING,
    "pairs": PAIRS,
    "rounds": ROUNDS,
    "tiles": TILES,
    "metals": METALS,
    "rates": RATES,
}


def words(picture, width: float = 180.0) -> list[str]:
    drawn = ElementTree.fromstring(charts.svg(picture, width=width, text_as="text"))  # noqa: S314
    return [node.text for node in drawn.iter("{http://www.w3.org/2000/svg}text")]


@pytest.mark.parametrize("name", PICTURES)
@pytest.mark.parametrize("text_as", ["text", "outlines"])
def test_the_same_picture_is_the_same_bytes(name, text_as):
    picture = PICTURES[name]
    first = charts.svg(picture, width=180, text_as=text_as)
    assert first == charts.svg(picture, width=180, text_as=text_as)
    assert b"<dc:" not in first  # no time, no name of a program
    assert b"<pattern" not in first  # a renderer of PDF draws each one anew, which doubles its time
    assert (b"<text" in first) == (text_as == "text")


@pytest.mark.parametrize("name", PICTURES)
@pytest.mark.parametrize("width", [180.0, 92.0])
def test_every_name_and_number_is_written_at_both_widths(name, width):
    width = 180.0 if name == "card" else width
    wanted = {
        "grid": ["A", "B", "brass rod", "zinc wire", "better", "worse", "+0.50", "better: settled"],
        "narrowing": ["round 3", "needs more runs", "clear winner, decided", "too small to act on"],
        "gains": ["zinc wire", "+1", "\N{MINUS SIGN}2", "gained on brass rod", "lost to brass rod", "round"],
        "card": ["within noise", "brass rod", "and 58 more", "6 rounds", "report AA-1", "a trial"],
        "ranking": ["brass rod", "leads", "zinc wire", "behind the leader", "average reading (bars)"],
        "pairs": ["brass rod − zinc wire", "clear winner", "difference (bars)", "too small to act on"],
        "rounds": ["brass rod", "zinc wire", "round", "bars", "1", "2", "3"],
        "metals": ["brass rod", "metal: at most 0.4 dB", "zinc wire", "what the metals can make at most"],
        "rates": [
            "normal",
            "skewed",
            "promised: at most 50",
            "some pair called",
            "a false winner",
            "of 1000",
        ],
        "tiles": ["Harbour One · 27", "28", "7.5", "none", "brass rod", "mean reading (bars)"],
    }[name]
    written = words(PICTURES[name], width)
    assert [one for one in wanted if one not in written] == []


def test_settings_are_put_back():
    import matplotlib

    names = [name for name in matplotlib.rcParams if name != "backend"]  # asking for it would choose one
    before = {name: matplotlib.rcParams[name] for name in names}
    charts.svg(RANKING, width=180, text_as="text")
    assert {name: matplotlib.rcParams[name] for name in names} == before


def test_reports_load_what_they_draw_with_when_they_draw_and_never_the_global_interface():
    script = (
        "import sys, reports, reports.wording, reports.text, reports.html, reports.pdf\n"
        "print('matplotlib' in sys.modules, 'weasyprint' in sys.modules, 'jinja2' in sys.modules)\n"
        "from tests.reports import sample_documents as s\n"
        "reports.render(s.two_elements(), 'html'); reports.render(s.two_elements(), 'pdf')\n"
        "print('matplotlib.pyplot' in sys.modules, 'weasyprint' in sys.modules)"
    )
    environment = {**os.environ, "PYTHONPATH": str(Path(reports.__file__).parents[1])}
    run = subprocess.run(
        [sys.executable, "-c", script], env=environment, capture_output=True, text=True, check=True
    )
    assert run.stdout.split("\n")[:2] == ["False False False", "False True"]


def test_settings_of_the_machine_do_not_change_a_picture():
    import matplotlib

    wanted = charts.svg(RANKING, width=180, text_as="text")
    with matplotlib.rc_context({"font.size": 30, "axes.grid": True, "axes.unicode_minus": False}):
        assert charts.svg(RANKING, width=180, text_as="text") == wanted


def test_a_dollar_sign_is_a_dollar_sign():
    odd = "$x_{2}$ \\frac{<b>}"
    assert odd in words(Ranking((Bar(odd, "", 1.0, None, None, "leads", "lead"), *BARS), None, "", "bars"))


def test_signs_that_the_face_lacks_become_a_box():
    assert letters.drawable("a漢z") == "a\N{WHITE SQUARE}z"
    assert letters.drawable("− ≥ \u202f ✓") == "− ≥ \u202f ✓"


def test_text_is_measured_as_wide_as_it_is_drawn():
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import TextPath

    from reports import fonts

    face = FontProperties(fname=str(fonts.regular()))
    for text in ("3 mm brass rod, weakened on purpose", "iiii", "MMMM"):
        drawn = TextPath((0, 0), text, size=100, prop=face).get_extents().width / 72 * 25.4
        assert drawn <= letters.width_of(text, 100) <= drawn + 8.0


def test_a_name_is_cut_to_its_room_and_not_beyond():
    name = "a rather long name for a short wire"
    cut = letters.fitted(name, 20.0)
    assert cut.endswith("…")
    assert letters.width_of(cut) <= 20.0
    assert letters.width_of(cut + "mm") > 20.0
    assert letters.fitted(name, 500.0) == name
    assert letters.fitted(name, 0.1) == "…"


def test_a_name_that_fits_exactly_is_not_cut():
    # as the columns of a picture are set: the widest name and a gap, less the gap again
    for name in ("ta", "q", "qz", "3 mm brass rod", "x"):
        assert letters.fitted(name, letters.width_of(name) + intervals.GAP - intervals.GAP) == name
    bars = tuple(Bar(name, "", 1.0, None, None, "leads", "plain") for name in ("ta", "q", "qz"))
    assert {"ta", "q", "qz"} <= set(words(Ranking(bars, None, "", "bars")))


def test_a_numbered_name_keeps_its_number():
    name = "x" * 48 + "\u2026 #12"
    cut = letters.fitted(name, 40.0)
    assert cut.endswith("x\u2026 #12")
    assert letters.width_of(cut) <= 40.0
    assert letters.fitted(name, 8.0).endswith("\u2026")


def test_names_from_right_to_left_keep_their_isolation_and_the_line_runs_from_left_to_right():
    assert letters.drawable("a\u2068b\u2069c") == "\u200ea\u2068b\u2069c"
    assert letters.drawable("abc") == "abc"
    assert letters.width_of("a\u2068b\u2069c") == letters.width_of("abc")


def test_a_name_that_is_cut_within_its_isolation_closes_it():
    name = "\u2068\u05de\u05d5\u05d8 \u05e0\u05d7\u05d5\u05e9\u05ea\u2069"
    cut = letters.fitted(name, letters.width_of(name) / 2)
    assert cut.endswith("\u2069\u2026")
    assert cut.count("\u2068") == cut.count("\u2069") == 1


def test_wrong_calls_and_wrong_winners_differ_in_shape_and_filling():
    from reports.charts.rates import _MARKS

    (one, _, face), (other, _, other_face) = _MARKS.values()
    assert one != other
    assert face != other_face


def test_both_halves_of_a_difference_stay_readable():
    long = Bar(
        "one very long name of a wire " * 2,
        "another very long name " * 2,
        0.5,
        0.2,
        0.8,
        "clear winner",
        "plain",
    )
    written = words(Pairs((long,), (-0.5, 0.5), "", "bars"))
    name = next(text for text in written if "−" in text and text.startswith("one very"))
    first, second = name.split(" − ")
    assert second.startswith("another very")
    assert min(len(first), len(second)) >= 12


def test_names_at_the_ends_of_lines_do_not_cover_one_another():
    placed = rounds._apart(
        [(10.0, 0, "a"), (10.1, 1, "b"), (10.2, 2, "c"), (59.9, 3, "d"), (60.0, 4, "e")], 0, 60.0
    )
    heights = [y for y, _, _ in placed]
    assert all(after - before >= rounds.STEP - 1e-9 for before, after in pairwise(heights))
    assert heights[-1] <= 60.0
    assert [name for _, _, name in placed] == list("abcde")


def test_nothing_is_written_outside_the_picture():
    drawn = charts.svg(RANKING, width=180, text_as="text").decode()
    _, _, width, height = map(float, re.search(r'viewBox="([^"]*)"', drawn).group(1).split())
    for x, y in re.findall(r'<text [^>]*x="([\d.-]+)" y="([\d.-]+)"', drawn):
        assert 0 <= float(x) <= width
        assert 0 <= float(y) <= height
