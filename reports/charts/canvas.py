"""A sheet measured in millimetres from its upper left corner, on which the charts draw.

matplotlib is used by its object interface only and imported when something is drawn. Its settings are
process-wide, so drawing holds a lock and puts every setting back.
"""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from typing import TYPE_CHECKING, Any, Literal

from reports.charts import palette
from reports.charts.letters import MM_PER_INCH, SIZE, SMALL, drawable
from reports.locales import spoken

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes

TextAs = Literal["text", "outlines"]
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
