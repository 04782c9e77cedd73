"""A report as tagged PDF; the only place that knows WeasyPrint.

The same document gives the same bytes with the same library versions: dates come from the document, the file
identifier from the report id, and the font subsetter's clock is stopped. Nothing is fetched while rendering
but this package's own files, the font files, and what stands in the page itself.
"""

import os
import re
import threading
from base64 import b64encode
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any, Final
from urllib.parse import unquote, urlsplit

from reports import charts, fonts, page
from reports.charts.pictures import Picture
from reports.document import FIRST_STRONG_ISOLATE, Document
from reports.language import say
from reports.page import Frame
from reports.view import report_frame, report_view
from reports.view.model import Bounds, Image

WIDTH: Final = 180.0
BOUNDS: Final = Bounds(rows=46, columns=10, picture_rows=24, picture_columns=12, channels=48)
SHORT: Final = replace(BOUNDS, rows=24, columns=6, channels=24)
MANY: Final = 24
MOST_RUNNING: Final = 90
NO_PANGO: Final = (
    "PDF reports need the pango library, which is not installed here: "
    "apt-get install -y --no-install-recommends libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"
)
_COUNTERS: Final = {"{number}": "counter(page)", "{pages}": "counter(pages)"}
_COUNTER: Final = re.compile(f"({'|'.join(map(re.escape, _COUNTERS))})")
_HERE: Final = Path(__file__).parent
_clock = threading.Lock()


class PdfUnavailable(RuntimeError):
    """The system library that lays out PDF pages is missing; the message says how to install it."""


def render(document: Document, *, paper: str | None = None) -> bytes:
    """The PDF of a completed analysis document on A4 or Letter.

    ValueError for another paper, PdfUnavailable where pango is missing, PermissionError when a page asks for
    an address outside this package.
    """
    report = report_view(document, draw, _bounds(document))
    return laid_out(report_frame(report), paper=paper, report=report)


def laid_out(frame: Frame, *, paper: str | None, sheets: tuple[str, ...] = (), **content: object) -> bytes:
    """A PDF with the title at the head of every page.

    `sheets` are further style sheets, `content` is what its template places. Raises what `render` raises.
    """
    own = page.style("palette", "both", "print", *sheets)
    style = f"{fonts.face_rules()}\n{own}\n{_numbered()}\n{page.paper_rule(paper)}"
    text = page.filled(frame, running=shortened(frame.heading), policies=(), styles=(), places=(), **content)
    return written(text, style=style, identifier=frame.identifier.encode("utf-8"))


def _numbered() -> str:
    """CSS that numbers the pages in the spoken language, as they are laid out."""
    said = say("page {number} of {pages}", number="{number}", pages="{pages}")
    parts = [_COUNTERS.get(part) or _quoted(part) for part in _COUNTER.split(said) if part]
    return f"@page {{ @bottom-right {{ content: {' '.join(parts)} }} }}"


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _bounds(document: Document) -> Bounds:
    """Of many elements no table can be printed whole, so less of each is: every row takes time."""
    return SHORT if len(document["elements"]) > MANY else BOUNDS


def written(text: str, *, style: str, identifier: bytes) -> bytes:
    """HTML laid out and written as tagged PDF (PDF/UA-1 structure)."""
    weasyprint = _library()
    from weasyprint.text.fonts import FontConfiguration
    from weasyprint.urls import FatalURLFetchingError

    faces, fetch = FontConfiguration(), _fetcher()
    with _stopped_clock():
        try:
            sheet = weasyprint.CSS(string=style, font_config=faces, url_fetcher=fetch)
            pages = weasyprint.HTML(string=text, url_fetcher=fetch)
            return pages.write_pdf(  # type: ignore[no-any-return]
                stylesheets=[sheet], font_config=faces, pdf_variant="pdf/ua-1", pdf_identifier=identifier
            )
        except FatalURLFetchingError as refused:
            raise PermissionError(str(refused)) from refused


def shortened(title: str) -> str:
    """A title for the head of every page."""
    return (
        title
        if len(title) <= MOST_RUNNING
        else f"{title[: MOST_RUNNING - 1].rstrip()}\N{HORIZONTAL ELLIPSIS}"
    )


def _library() -> Any:
    try:
        import weasyprint
    except OSError as missing:
        raise PdfUnavailable(NO_PANGO) from missing
    return weasyprint


def _fetcher() -> Any:
    from weasyprint.urls import FatalURLFetchingError, URLFetcher

    class OwnFilesOnly(URLFetcher):  # type: ignore[misc]
        """Fetches data: addresses and files of this package or the font folder; all else ends rendering."""

        def fetch(self, url: str, headers: Any = None) -> Any:
            if not allowed(url):
                raise FatalURLFetchingError(f"a report may not fetch {url[:200]}")
            return super().fetch(url, headers)

    return OwnFilesOnly(allowed_protocols=("data", "file"), allow_redirects=False)


def allowed(url: str) -> bool:
    """Whether rendering may read this address."""
    parts = urlsplit(url)
    if parts.scheme == "data":
        return True
    if parts.scheme != "file" or parts.netloc:
        return False
    path = Path(unquote(parts.path)).resolve()
    return any(path.is_relative_to(folder.resolve()) for folder in (_HERE, fonts.folder()))


@contextmanager
def _stopped_clock() -> Iterator[None]:
    # Without libharfbuzz-subset fonts are cut by fontTools, which writes the time into them unless told one.
    with _clock:
        before = os.environ.get("SOURCE_DATE_EPOCH")
        os.environ["SOURCE_DATE_EPOCH"] = before or "0"
        try:
            yield
        finally:
            if before is None:
                del os.environ["SOURCE_DATE_EPOCH"]


def draw(picture: Picture) -> Image:
    """A picture as this form shows it."""
    drawn = charts.svg(picture, width=WIDTH, text_as="text")
    if FIRST_STRONG_ISOLATE.encode() in drawn:  # WeasyPrint sets letters of a picture from left to right
        drawn = charts.svg(picture, width=WIDTH, text_as="outlines")
    return Image(f"data:image/svg+xml;base64,{b64encode(drawn).decode('ascii')}", ())
