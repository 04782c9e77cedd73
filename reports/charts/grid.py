"""Every pair as a tile: better, worse, as good or open, told by word or sign, by pattern, and by number."""

from collections.abc import Mapping
from typing import Any, Final

from reports.charts import palette
from reports.charts.canvas import Canvas
from reports.charts.hatching import hatch_sheet
from reports.charts.letters import MM_PER_INCH, POINTS_PER_INCH, SIZE, SMALL, broken, fitted, width_of
from reports.charts.pictures import Grid, Meeting

HEAD: Final = 5.0
LINE: Final = 3.1
WIDEST: Final = 24.0
WITH_WORD: Final = 12.5  # the narrowest tile with a word in it
WITH_NUMBER: Final = 8.0
BOLD: Final = 1.12  # how much wider bold letters are, at most
NARROW: Final = 120.0
TALL: Final = 7.4
LOW: Final = 4.4
SIGNS: Final = {"better": "+", "worse": "\N{MINUS SIGN}", "as good": "=", "open": "?", "none": ""}
HATCHED: Final = ("worse", "as good")
_LOOKS: Final[Mapping[str, Mapping[str, Any]]] = {
    "better": {"facecolor": palette.TILE_HIGH},
    "worse": {"facecolor": palette.PAPER},
    "as good": {"facecolor": palette.PAPER},
    "open": {"facecolor": palette.PAPER},
    "none": {"facecolor": palette.RULE},
}


def draw(picture: Grid, width: float) -> Canvas:
    """The picture at a width in millimetres.

    Rows carry a letter and the name, columns the letter. Wide tiles hold a word and the difference, those too
    narrow for the words of the language a sign instead, the narrowest the sign alone.
    """
    count = len(picture.names)
    names = max(width_of(name, SMALL) for name in picture.names)
    left = min(names, width * (0.28 if width < NARROW else 0.34)) + 7.0
    cell = min(WIDEST, (width - left - 0.5) / count)
    row = TALL if cell >= WITH_NUMBER else LOW
    worded = cell >= max(WITH_WORD, BOLD * max(_room(row) for row in picture.rows))
    legend = [line for says in picture.says for line in broken(says, width - 1.0, SMALL)]
    canvas = Canvas(width, HEAD + row * count + 2.0 + LINE * len(legend))
    _tiles(canvas, picture, left=left, cell=cell, row=row)
    for place, name in enumerate(picture.names):
        middle = HEAD + row * (place + 0.5)
        canvas.write(0.5, middle, _letter(place), ha="left", size=SIZE, weight="bold")
        canvas.write(5.0, middle, fitted(name, left - 6.5, SMALL), ha="left", size=SMALL)
        canvas.write(left + cell * (place + 0.5), 2.6, _letter(place), ha="center", size=SIZE, weight="bold")
        for column, meeting in enumerate(picture.rows[place] if cell >= WITH_NUMBER else ()):
            _say(canvas, meeting, at=(left + cell * (column + 0.5), middle), worded=worded)
    if cell < WITH_NUMBER:
        _signs(canvas, picture, left=left, cell=cell, row=row)
    for place, line in enumerate(legend):
        canvas.write(0.5, HEAD + row * count + 3.0 + LINE * place, line, ha="left", size=SMALL)
    return canvas


def _room(row: tuple[Meeting, ...]) -> float:
    """Millimetres that the longest word of a row takes in a plain face."""
    return max(width_of(meeting.word, SMALL) for meeting in row)


def _letter(place: int) -> str:
    return chr(ord("A") + place)


def _say(canvas: Canvas, meeting: Meeting, *, at: tuple[float, float], worded: bool) -> None:
    x, y = at
    bold = {"ha": "center", "weight": "bold"}
    first = meeting.word if worded else SIGNS[meeting.mark]
    canvas.write(x, y - 1.5, first, size=SMALL, bbox=_patch(meeting), **bold)
    canvas.write(x, y + 1.6, meeting.printed, ha="center", size=SMALL, bbox=_patch(meeting))


def _signs(canvas: Canvas, picture: Grid, *, left: float, cell: float, row: float) -> None:
    """All signs of one kind as one path: hundreds of single letters would take longer than the pages."""
    from matplotlib.collections import PolyCollection
    from matplotlib.font_manager import FontProperties
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path
    from matplotlib.textpath import TextPath

    face = FontProperties(family="DejaVu Sans", weight="bold")
    for mark, sign in SIGNS.items():
        at = _places(picture, mark)
        if not at or not sign:
            continue
        shape = TextPath((0.0, 0.0), sign, size=SMALL * 1.2, prop=face)
        points = shape.vertices * MM_PER_INCH / POINTS_PER_INCH * (1.0, -1.0)
        points -= (points.max(axis=0) + points.min(axis=0)) / 2
        middles = [(left + cell * (x + 0.5), HEAD + row * (y + 0.5)) for x, y in at]
        signs = [Path(points + middle, shape.codes) for middle in middles]
        if mark in HATCHED:
            under = [_box(x - 1.3, y - 1.2, x + 1.3, y + 1.2) for x, y in middles]
            canvas.place(PolyCollection(under, facecolors=palette.PAPER, linewidths=0, zorder=2.0))
        looks = {"facecolor": palette.INK, "linewidth": 0, "zorder": 3.0}
        canvas.place(PathPatch(Path.make_compound_path(*signs), **looks))


def _places(picture: Grid, mark: str) -> list[tuple[int, int]]:
    """The columns and rows of the tiles of one kind."""
    return [(x, y) for y, row in enumerate(picture.rows) for x, one in enumerate(row) if one.mark == mark]


def _patch(meeting: Meeting) -> dict[str, object]:
    """Paper under the letters where a pattern would run through them."""
    face = palette.PAPER if meeting.mark in HATCHED else "none"
    return {"facecolor": face, "edgecolor": "none", "pad": 0.4}


def _box(left: float, top: float, right: float, bottom: float) -> list[tuple[float, float]]:
    return [(left, top), (right, top), (right, bottom), (left, bottom)]


def _tiles(canvas: Canvas, picture: Grid, *, left: float, cell: float, row: float) -> None:
    """All tiles of one look as one artist."""
    from matplotlib.collections import PolyCollection

    for mark, looks in _LOOKS.items():
        boxes = [
            (left + cell * x, HEAD + row * y, left + cell * (x + 1), HEAD + row * (y + 1))
            for x, y in _places(picture, mark)
        ]
        corners = [_box(*box) for box in boxes]
        canvas.place(PolyCollection(corners, edgecolors=palette.HATCH, linewidths=0.5, **looks))
        if mark in HATCHED and boxes:
            hatch_sheet(canvas, boxes, level=mark == "as good", zorder=1.1)
