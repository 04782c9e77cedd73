"""The forms of report that a page offers, and a report as an answer."""

from collections.abc import Callable, Mapping
from typing import Any, Final, Protocol

from flask import Response

from reports.language import marked, say
from service.pages.asked_form import json_file, refuse_unknown
from service.pages.fields import Button
from service.pages.joined import joined

FORM_TEXTS: Final[Mapping[str, str]] = {
    "pdf": marked("PDF to print"),
    "html": marked("One page to keep (HTML)"),
    "card": marked("Picture to show, wide"),
    "card square": marked("Picture to show, square"),
    "summary": marked("Words to read aloud"),
    "csv": marked("Tables (CSV)"),
    "markdown": marked("Markdown"),
    "json": marked("Everything (JSON)"),
    "junit": marked("JUnit XML"),
}


class Rendered(Protocol):
    """Renders a report."""

    def __call__(self, *, form: str, paper: None, shape: str, locale: str) -> bytes:
        """The report in that form."""


def offered_forms() -> tuple[Button, ...]:
    """The forms that a verdict can be had in, those for people first."""
    names = joined().forms.verdict
    known = [name for name in FORM_TEXTS if name.partition(" ")[0] in names]
    others = [name for name in names if name not in FORM_TEXTS]
    named = [Button(name, say(FORM_TEXTS[name])) for name in known]
    return (*named, *(Button(name, name) for name in others))


def in_form(wanted: str, document: Callable[[], Mapping[str, Any]], rendered: Rendered) -> Response:
    """The verdict in that form, for pictures with its shape.

    Raises NotAcceptable for a form that there is not, and what the work raises.
    """
    forms = joined().forms.verdict
    form, _, shape = wanted.partition(" ")
    refuse_unknown(form, forms)
    if form == "json":
        return json_file(document(), forms, named="verdict")
    content = rendered(form=form, paper=None, shape=shape or "wide", locale=joined().locale)
    return joined().report(content, form, forms, named="verdict")
