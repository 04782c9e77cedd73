"""Pictures: same bytes, text as text or as outlines, strangers' names as they are, nothing cut or on top."""

import re
from itertools import pairwise

import pytest

from reports import charts
from reports.charts import intervals, letters, rounds
from reports.charts.pictures import Bar, Pairs, Ranking
from tests.reports import elsewhere
from tests.reports.drawn import words
from tests.reports.sample_pictures import BARS, PICTURES, RANKING


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
    assert elsewhere.loaded("before") == []
    assert elsewhere.loaded("after") == ["jinja2", "matplotlib", "weasyprint"]


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
    written = re.findall(r'<text [^>]*x="([\d.-]+)" y="([\d.-]+)"', drawn)
    assert len(written) == drawn.count("<text ") > 5
    for x, y in written:
        assert 0 <= float(x) <= width
        assert 0 <= float(y) <= height
