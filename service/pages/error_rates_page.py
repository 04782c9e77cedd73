"""How often this tool is wrong: what the calibration study measured."""

from dataclasses import dataclass, replace
from functools import cache
from typing import TYPE_CHECKING

from flask import Response

from reports.language import say
from service.pages.answering import shown
from service.pages.declaring import OPEN, Pages
from service.pages.joined import joined

if TYPE_CHECKING:
    from reports.view.model import Section

error_rates_page = Pages("error-rates")


@dataclass(frozen=True)
class RatesPage:
    """The measured rates, the same for everybody."""

    sections: "tuple[Section, ...]"


@error_rates_page.page("/how-often-wrong", may=OPEN)
def show_rates() -> Response:
    """The measured rates."""
    page = RatesPage((_section(joined().locale),))
    return shown("error_rates.html", page, title=say("How often this tool is wrong"))


@cache
def _section(_locale: str) -> "Section":
    """Drawn once in a process for the locale, which is spoken: it is the same for every trial."""
    from reports.view.error_rates import of_rule
    from service.pages.verdict_parts import BOUNDS, drawn_at_once

    return replace(of_rule(drawn_at_once, BOUNDS), title=say("What was measured"))
