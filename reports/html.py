"""A report as one self-contained page: styles and pictures inside, no address that leads outside."""

from base64 import b64encode
from hashlib import sha256

from reports import charts, page
from reports.charts.pictures import Picture
from reports.document import Document
from reports.page import Frame
from reports.view import report_frame, report_view
from reports.view.model import Bounds, Image

WIDE, NARROW = 180.0, 92.0
BOUNDS = Bounds(rows=400, columns=24, picture_rows=60, picture_columns=12, channels=60)
MOST_BYTES = 6_000_000
"""No page on a trial within the limits is larger; half of it are pictures, drawn for two widths."""


def render(document: Document, *, paper: str | None = None) -> bytes:
    """The page of a completed analysis document, in UTF-8; `paper` is what a browser would print it on.

    ValueError for a paper that is not known.
    """
    report = report_view(document, draw, BOUNDS)
    return written(report_frame(report), paper=paper, report=report)


def written(frame: Frame, *, paper: str | None, sheets: tuple[str, ...] = (), **content: object) -> bytes:
    """A page in UTF-8 with its styles and its policy inside.

    `sheets` are further style sheets, `content` is what its template places. ValueError for a paper that is
    not known.
    """
    from markupsafe import Markup

    style = f"{page.style('palette', 'both', 'screen', *sheets)}\n{page.paper_rule(paper)}"
    text = page.filled(
        frame,
        running="",
        policies=(content_security_policy(style),),
        styles=(Markup(style),),  # noqa: S704 (our own style sheets, no stranger's text)
        places=frame.places,
        **content,
    )
    return text.encode("utf-8")


def content_security_policy(style: str) -> str:
    """What the page may load: this style, known by its hash, and pictures that stand in the page itself."""
    digest = b64encode(sha256(style.encode("utf-8")).digest()).decode("ascii")
    return (
        f"default-src 'none'; style-src 'sha256-{digest}'; img-src data:; base-uri 'none'; form-action 'none'"
    )


def draw(picture: Picture) -> Image:
    """A picture as this form shows it."""
    return Image(_address(picture, WIDE), (_address(picture, NARROW),))


def _address(picture: Picture, width: float) -> str:
    drawn = charts.svg(picture, width=width, text_as="outlines")
    return f"data:image/svg+xml;base64,{b64encode(drawn).decode('ascii')}"
