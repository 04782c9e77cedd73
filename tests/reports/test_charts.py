"""Pictures: same bytes, text as text or as outlines, strangers' names as they are, nothing cut or on top."""

import re
import sys
from xml.etree import ElementTree

import pytest

from reports import charts
from reports.charts import canvas, rounds
from reports.charts.pictures import Bar, Line, Pairs, Ranking, Rounds, TileRow, Tiles

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
PICTURES = {"ranking": RANKING, "pairs": PAIRS, "rounds": ROUNDS, "tiles": TILES}


def words(picture, width: float = 180.0) -> list[str]:
    drawn = ElementTree.fromstring(charts.svg(picture, width=width, text_as="text"))  # noqa: S314
    return [node.text for node in drawn.iter("{http://www.w3.org/2000/svg}text")]


@pytest.mark.parametrize("name", PICTURES)
@pytest.mark.parametrize("text_as", ["text", "outlines"])
def test_the_same_picture_is_the_same_bytes(name, text_as):
    picture = PICTURES[name]
    first = charts.svg(picture, width=180, text_as=text_as)
    assert first == charts.svg(picture, width=180, text_as=text_as)
    assert b"matplotlib" not in first.lower()
    assert (b"<text" in first) == (text_as == "text")


@pytest.mark.parametrize("name", PICTURES)
@pytest.mark.parametrize("width", [180.0, 92.0])
def test_every_name_and_number_is_written_at_both_widths(name, width):
    wanted = {
        "ranking": ["brass rod", "leads", "zinc wire", "behind the leader", "average reading (bars)"],
        "pairs": ["brass rod − zinc wire", "clear winner", "difference (bars)", "too small to act on"],
        "rounds": ["brass rod", "zinc wire", "round", "bars", "1", "2", "3"],
        "tiles": ["Harbour One · 27", "28", "7.5", "none", "brass rod", "mean reading (bars)"],
    }[name]
    written = words(PICTURES[name], width)
    assert [one for one in wanted if one not in written] == []


def test_pictures_use_the_object_interface_and_put_the_settings_back():
    import matplotlib

    before = dict(matplotlib.rcParams)
    charts.svg(RANKING, width=180, text_as="text")
    assert dict(matplotlib.rcParams) == before
    assert "matplotlib.pyplot" not in sys.modules


def test_settings_of_the_machine_do_not_change_a_picture():
    import matplotlib

    wanted = charts.svg(RANKING, width=180, text_as="text")
    with matplotlib.rc_context({"font.size": 30, "axes.grid": True, "axes.unicode_minus": False}):
        assert charts.svg(RANKING, width=180, text_as="text") == wanted


def test_a_dollar_sign_is_a_dollar_sign():
    odd = "$x_{2}$ \\frac{<b>}"
    assert odd in words(Ranking((Bar(odd, "", 1.0, None, None, "leads", "lead"), *BARS), None, "", "bars"))


def test_signs_that_the_face_lacks_become_a_box():
    assert canvas.drawable("a漢z") == "a\N{WHITE SQUARE}z"
    assert canvas.drawable("− ≥ \u202f ✓") == "− ≥ \u202f ✓"


def test_text_is_measured_as_wide_as_it_is_drawn():
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import TextPath

    from reports import fonts

    face = FontProperties(fname=str(fonts.regular()))
    for text in ("3 mm brass rod, weakened on purpose", "iiii", "MMMM"):
        drawn = TextPath((0, 0), text, size=100, prop=face).get_extents().width / 72 * 25.4
        assert drawn <= canvas.width_of(text, 100) <= drawn + 8.0


def test_a_name_is_cut_to_its_room_and_not_beyond():
    name = "a rather long name for a short wire"
    cut = canvas.fitted(name, 20.0)
    assert cut.endswith("…")
    assert canvas.width_of(cut) <= 20.0
    assert canvas.width_of(cut + "mm") > 20.0
    assert canvas.fitted(name, 500.0) == name
    assert canvas.fitted(name, 0.1) == "…"


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
    assert all(
        after - before >= rounds.STEP - 1e-9 for before, after in zip(heights, heights[1:], strict=False)
    )
    assert heights[-1] <= 60.0
    assert [name for _, _, name in placed] == list("abcde")


def test_nothing_is_written_outside_the_picture():
    drawn = charts.svg(RANKING, width=180, text_as="text").decode()
    _, _, width, height = map(float, re.search(r'viewBox="([^"]*)"', drawn).group(1).split())
    for x, y in re.findall(r'<text [^>]*x="([\d.-]+)" y="([\d.-]+)"', drawn):
        assert 0 <= float(x) <= width
        assert 0 <= float(y) <= height
