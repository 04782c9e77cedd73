"""Templates and styles, read from this package alone; templates place finished strings and decide nothing."""

from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Final

from reports.language import say
from reports.locales import spoken

if TYPE_CHECKING:
    from jinja2 import Environment

_HERE: Final = Path(__file__).parent
PAPERS: Final = {"a4": "A4", "letter": "letter"}


@dataclass(frozen=True)
class Frame:
    """What stands around the content of a page or a PDF, whatever it is about.

    template: its file. kind: what it is, in two words. title: of the window or the file. heading: at its top.
    end: its last line. identifier: what tells it from all others. moments: the time of issue, or nothing.
    places: which page of how many it is, on the screen, or nothing.
    """

    template: str
    kind: str
    title: str
    heading: str
    end: str
    identifier: str
    moments: tuple[str, ...] = ()
    places: tuple[str, ...] = field(default_factory=lambda: (say("Page 1 of 1"),))
    language: str = field(default_factory=lambda: spoken().language)


@cache
def environment() -> "Environment":
    """The templates; `_` says their own words, and every value they place is escaped."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    loader = FileSystemLoader(_HERE / "templates")
    made = Environment(loader=loader, autoescape=True, undefined=StrictUndefined, auto_reload=False)
    made.globals["_"] = say
    return made


def filled(frame: Frame, **placed: object) -> str:
    """The template of the frame with what it places beside the frame itself."""
    return environment().get_template(frame.template).render(frame=frame, **placed)


def paper_rule(paper: str | None) -> str:
    """CSS that sets the size of printed pages, None for the locale's; ValueError for a paper not known."""
    paper = paper or spoken().paper
    if paper not in PAPERS:
        raise ValueError(f"paper {paper!r} is not known; there are {' and '.join(PAPERS)}")
    return f"@page {{ size: {PAPERS[paper]} }}"


@cache
def style(*names: str) -> str:
    """Style sheets of this package, one after another."""
    return "\n".join((_HERE / "styles" / f"{name}.css").read_text(encoding="utf-8") for name in names)
