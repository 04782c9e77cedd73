"""A report as one self-contained page: styles and pictures inside, no address that leads outside."""

from base64 import b64encode
from hashlib import sha256

from reports import charts, page
from reports.charts.pictures import Picture
from reports.document import Document
from reports.view import report_view
from reports.view.model import Bounds, Image

WIDE, NARROW = 180.0, 92.0
BOUNDS = Bounds(rows=400, columns=24, picture_rows=60, picture_columns=12, channels=60)


def render(document: Document, *, paper: str = "a4") -> bytes:
    """The page of a completed analysis document, in UTF-8; `paper` is what a browser would print it on.

    ValueError for a paper that is not known.
    """
    from markupsafe import Markup

    style = _style(paper)
    report = report_view(document, _draw, BOUNDS)
    text = (
        page.environment()
        .get_template("report.html")
        .render(
            report=report,
            running="",
            policies=(content_security_policy(style),),
            moments=(),
            styles=(Markup(style),),  # noqa: S704 (our own style sheets, no stranger's text)
            places=("Page 1 of 1",),
        )
    )
    return text.encode("utf-8")


def content_security_policy(style: str) -> str:
    """What the page may load: this style, known by its hash, and pictures that stand in the page itself."""
    digest = b64encode(sha256(style.encode("utf-8")).digest()).decode("ascii")
    return (
        f"default-src 'none'; style-src 'sha256-{digest}'; img-src data:; base-uri 'none'; form-action 'none'"
    )


def _style(paper: str) -> str:
    return f"{page.style('palette', 'both', 'screen')}\n{page.paper_rule(paper)}"


def _draw(picture: Picture) -> Image:
    return Image(_address(picture, WIDE), (_address(picture, NARROW),))


def _address(picture: Picture, width: float) -> str:
    drawn = charts.svg(picture, width=width, text_as="outlines")
    return f"data:image/svg+xml;base64,{b64encode(drawn).decode('ascii')}"
