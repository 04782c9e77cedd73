"""The files that pages are made with; they hold nothing of anybody, so they want no token."""

from flask import Response, request
from werkzeug.exceptions import NotFound

from service.pages.answering import compressed
from service.pages.assets import assets, edition, media_type
from service.pages.declaring import OPEN, Pages

static_files = Pages("static")
A_YEAR = 365 * 24 * 3600
A_DAY = 24 * 3600


@static_files.page("/static/<version>/<name>", may=OPEN)
def static_file(version: str, name: str) -> Response:
    """A file. Under the address of its present contents it may be kept for good."""
    if version != edition():
        raise NotFound
    return _file(name, f"public, max-age={A_YEAR}, immutable")


@static_files.page("/favicon.ico", may=OPEN)
def favicon() -> Response:
    """The mark that browsers show beside the title."""
    return _file("favicon.ico", f"public, max-age={A_DAY}")


def _file(name: str, keep: str) -> Response:
    if name not in assets():
        raise NotFound
    answer = Response(assets()[name], content_type=media_type(name))
    answer.headers["Cache-Control"] = keep
    answer.set_etag(f"{edition()}-{name}")
    compressed(answer).make_conditional(request)
    return answer
