"""A sheet measured in millimetres from its upper left corner, on which the charts draw.

matplotlib is used by its object interface only and imported when something is drawn. Its settings are
process-wide, so drawing holds a lock and puts every setting back.
"""

import re
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache, lru_cache
from io import BytesIO
from typing import TYPE_CHECKING, Any, Final, Literal

from reports import fonts
from reports.charts import palette
from reports.document import FIRST_STRONG_ISOLATE, POP_ISOLATE, without_isolates
from reports.locales import spoken

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes

TextAs = Literal["text", "outlines"]
MM_PER_INCH: Final = 25.4
POINTS_PER_INCH: Final = 72.0
SIZE: Final = 7.6
SMALL: Final = 6.8
MEASURED_AT: Final = 256.0
FIXED_POINT: Final = 65536.0  # FreeType gives unhinted advances in 16.16 fixed point
SLACK: Final = 1e-6  # room is often a difference of sums: its last digit must not cut what fits exactly
ELLIPSIS: Final = "\N{HORIZONTAL ELLIPSIS}"
_NUMBERED: Final = re.compile(f"{ELLIPSIS} #[0-9]+$")
BOX: Final = "\N{WHITE SQUARE}"
LEFT_TO_RIGHT: Final = "\N{LEFT-TO-RIGHT MARK}"
_ISOLATES: Final = frozenset(FIRST_STRONG_ISOLATE + POP_ISOLATE)
_drawing = threading.Lock()


@contextmanager
def settings(text_as: TextAs) -> Iterator[None]:
    """matplotlib's own defaults plus ours, for as long as a picture is drawn."""
    import matplotlib

    with _drawing, matplotlib.rc_context():
        matplotlib.rcdefaults()
        matplotlib.rcParams.update(
            {
                "svg.fonttype": "none" if text_as == "text" else "path",
                "svg.hashsalt": "aerial-assay",
                "font.family": ["DejaVu Sans"],
                "font.size": SIZE,
                "text.color": palette.INK,
                "text.parse_math": False,
                "axes.edgecolor": palette.QUIET,
                "axes.linewidth": 0.6,
                "axes.formatter.useoffset": False,
                "hatch.linewidth": 0.5,
                "xtick.color": palette.QUIET,
                "ytick.color": palette.QUIET,
                "xtick.labelsize": SMALL,
                "ytick.labelsize": SMALL,
                "xtick.major.size": 2.5,
                "ytick.major.size": 2.5,
                "xtick.major.width": 0.6,
                "ytick.major.width": 0.6,
            }
        )
        yield


class Canvas:
    """One picture; open `settings` around its whole life."""

    def __init__(self, width: float, height: float):
        from matplotlib.backends.backend_svg import FigureCanvasSVG
        from matplotlib.figure import Figure

        self.width, self.height = width, height
        self._figure = Figure(figsize=(width / MM_PER_INCH, height / MM_PER_INCH), facecolor="none")
        FigureCanvasSVG(self._figure)

    def axes(self, left: float, top: float, *, right: float, bottom: float) -> "Axes":
        """A drawing area between four edges, each in millimetres from the upper left corner."""
        share = (
            left / self.width,
            1 - bottom / self.height,
            (right - left) / self.width,
            (bottom - top) / self.height,
        )
        area = self._figure.add_axes(share)
        area.set_facecolor("none")
        for axis in (area.xaxis, area.yaxis):
            axis.set_major_formatter(_marked())
        for side in ("top", "right", "left"):
            area.spines[side].set_visible(False)
        return area

    def place(self, artist: "Artist") -> None:
        """An artist drawn in millimetres of the sheet; ten times cheaper than a drawing area of its own."""
        from matplotlib.transforms import Affine2D

        sheet = Affine2D().scale(1 / self.width, -1 / self.height).translate(0.0, 1.0)
        artist.set_transform(sheet + self._figure.transSubfigure)
        self._figure.add_artist(artist)

    def write(self, x: float, y: float, text: str, **looks: Any) -> None:
        """Text at a place, its middle height on `y`."""
        self._figure.text(x / self.width, 1 - y / self.height, drawable(text), va="center_baseline", **looks)

    def png(self, *, dots_per_inch: float, description: str) -> bytes:
        """The picture as dots on white, its description in the file; the same bytes for the same drawing."""
        out = BytesIO()
        self._figure.savefig(
            out,
            format="png",
            dpi=dots_per_inch,
            facecolor=palette.PAPER,
            metadata={"Software": None, "Description": description},
        )
        return out.getvalue()

    def svg(self) -> bytes:
        """The picture, the same bytes for the same drawing; nothing in it names a time or a program."""
        out = BytesIO()
        nothing = {"Date": None, "Creator": None, "Format": None, "Type": None}
        self._figure.savefig(out, format="svg", metadata=nothing, transparent=True)
        return out.getvalue()


def _marked() -> Any:
    """The usual numbers along an axis, with the decimal mark of the locale."""
    from matplotlib.ticker import ScalarFormatter

    class Marked(ScalarFormatter):
        """Numbers as the library writes them, but for the mark."""

        def __call__(self, x: float, pos: int | None = None) -> str:
            return super().__call__(x, pos).replace(".", spoken().decimal)

    return Marked()


def width_of(text: str, size: float = SIZE) -> float:
    """How many millimetres a text takes in the pictures' face, kerning left aside."""
    return sum(_advance(sign) for sign in without_isolates(text)) * size


def fitted(text: str, room: float, size: float = SIZE) -> str:
    """The text, cut at its end until it takes no more than `room` millimetres.

    A name that was cut before keeps the number behind it, which tells it apart from others cut alike.
    """
    if width_of(text, size) <= room + SLACK:
        return text
    tail = _NUMBERED.search(text)
    end = tail.group() if tail and width_of(tail.group(), size) <= room / 2 else ELLIPSIS
    left, kept = room - width_of(end, size), 0
    for sign in text:
        left -= width_of(sign, size)
        if left < 0:
            break
        kept += 1
    cut = text[:kept].rstrip()
    still_open = cut.count(FIRST_STRONG_ISOLATE) - cut.count(POP_ISOLATE)
    return cut + POP_ISOLATE * still_open + end


def broken(text: str, room: float, size: float = SIZE) -> list[str]:
    """The text broken between words into lines of this room; a word that is longer stands alone, uncut."""
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        if not lines[-1] or width_of(longer, size) <= room:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def drawable(text: str) -> str:
    """The text with a box for every character that the pictures' face does not have.

    Marks that isolate a name from the direction of its neighbours stay, and the whole is said to run from
    left to right: else "first less second" would stand the other way round where both run from right to left.
    """
    drawn = "".join(sign if sign in _ISOLATES or _has(sign) else BOX for sign in text)
    return f"{LEFT_TO_RIGHT}{drawn}" if FIRST_STRONG_ISOLATE in drawn else drawn


@lru_cache(maxsize=4096)
def _has(sign: str) -> bool:
    return bool(_face().get_char_index(ord(sign)))


@lru_cache(maxsize=4096)
def _advance(sign: str) -> float:
    """Width of one character, in millimetres for each point of size."""
    from matplotlib.ft2font import LoadFlags

    glyph = _face().load_char(ord(sign if _has(sign) else BOX), flags=LoadFlags.NO_HINTING)
    return float(glyph.linearHoriAdvance) / FIXED_POINT / MEASURED_AT / POINTS_PER_INCH * MM_PER_INCH


@cache
def _face() -> Any:
    from matplotlib.ft2font import FT2Font

    face = FT2Font(str(fonts.regular()))
    face.set_size(MEASURED_AT, POINTS_PER_INCH)
    return face
