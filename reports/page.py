"""Templates and styles, read from this package alone; templates place finished strings and decide nothing."""

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from jinja2 import Environment

_HERE: Final = Path(__file__).parent
PAPERS: Final = {"a4": "A4", "letter": "letter"}


@cache
def environment() -> "Environment":
    """The templates; every value they place is escaped, whatever the form."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    loader = FileSystemLoader(_HERE / "templates")
    return Environment(loader=loader, autoescape=True, undefined=StrictUndefined, auto_reload=False)


def paper_rule(paper: str) -> str:
    """CSS that sets the size of printed pages; ValueError for a paper that is not known."""
    if paper not in PAPERS:
        raise ValueError(f"paper {paper!r} is not known; there are {' and '.join(PAPERS)}")
    return f"@page {{ size: {PAPERS[paper]} }}"


@cache
def style(*names: str) -> str:
    """Style sheets of this package, one after another."""
    return "\n".join((_HERE / "styles" / f"{name}.css").read_text(encoding="utf-8") for name in names)
