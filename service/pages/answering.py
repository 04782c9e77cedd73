"""How a page is answered: its frame, its policy, packed for the way."""

import gzip
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Final

from flask import Response, redirect, request

from reports import page as report_page
from reports.language import marked, say
from reports.locales import spoken
from service.pages.assets import address

if TYPE_CHECKING:
    from jinja2 import Environment

_HERE: Final = Path(__file__).parent
POLICY: Final = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; form-action 'self'; "
    "connect-src 'self'; base-uri 'none'; frame-ancestors 'none'"
)
SMALL: Final = 860
"""Bytes below which compressing is not worth it."""
SECTIONS: Final = (
    ("/", marked("Judge readings")),
    ("/kept", marked("Kept trials")),
    ("/plan", marked("Plan a trial")),
    ("/check", marked("Check a design")),
    ("/how-often-wrong", marked("How often it is wrong")),
)
"""The pages that every page leads to."""


@dataclass(frozen=True)
class Link:
    """A link of the frame; `current` is "page" where it leads to the present one, else "false"."""

    address: str
    text: str
    current: str = "false"


@dataclass(frozen=True)
class Frame:
    """What stands around a page; `kind` is its class, for styles that are its alone.

    language: the tag of the language that the page is in (BCP 47).
    """

    language: str
    title: str
    kind: str
    styles: tuple[str, ...]
    scripts: tuple[str, ...]
    sections: tuple[Link, ...]


def shown(
    template: str,
    page: object,
    *,
    title: str,
    status: int = 200,
    styles: tuple[str, ...] = (),
    scripts: tuple[str, ...] = (),
    section: str | None = None,
) -> Response:
    """The page: `template` filled with the finished strings of `page`.

    styles, scripts: names of files in `static`, beside those of all pages; scripts are loaded as modules.
    section: the path of the entry of the frame's list that this page belongs to, by default the present path.
    """
    frame = Frame(
        language=spoken().language,
        title=title,
        kind=f"page-{template.removesuffix('.html').replace('_', '-')}",
        styles=tuple(address(name) for name in ("report.css", "pages.css", *styles)),
        scripts=tuple(address(name) for name in ("access.js", *scripts)),
        sections=_sections(section or request.path),
    )
    text = environment().get_template(template).render(frame=frame, page=page)
    return html_answer(text.encode(), status=status)


def html_answer(content: bytes, *, status: int = 200) -> Response:
    """A page's bytes as an answer, under the policy of pages."""
    answer = Response(content, status=status, content_type="text/html; charset=utf-8")
    answer.headers["Content-Security-Policy"] = POLICY
    answer.headers["Cache-Control"] = "private, no-cache"
    return compressed(answer)


def compressed(answer: Response) -> Response:
    """The answer, its body packed where the browser reads that."""
    answer.vary.add("Accept-Encoding")
    content = answer.get_data()
    if len(content) > SMALL and request.accept_encodings["gzip"] > 0:
        answer.set_data(gzip.compress(content, 6, mtime=0))
        answer.headers["Content-Encoding"] = "gzip"
    return answer


@cache
def environment() -> "Environment":
    """The templates of the pages and, behind them, those of the reports; every value is escaped.

    Their own words they say with `_`.
    """
    from jinja2 import ChoiceLoader, Environment, FileSystemLoader, StrictUndefined

    loaders = [FileSystemLoader(_HERE / "templates")]
    behind = report_page.environment().loader
    made = Environment(
        loader=ChoiceLoader([*loaders, *([behind] if behind else [])]),
        autoescape=True,
        undefined=StrictUndefined,
        auto_reload=False,
        trim_blocks=True,
    )
    made.globals["_"] = say
    return made


def _sections(current: str) -> tuple[Link, ...]:
    return tuple(Link(path, say(text), "page" if path == current else "false") for path, text in SECTIONS)


def see(path: str) -> Response:
    """What follows a form that changed something: a page to look at, which may be loaded again."""
    return redirect(path, 303)  # type: ignore[return-value] # the same class, by another name
