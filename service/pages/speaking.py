"""Pages speak the language of the application's locale, from the first look at a request to its answer."""

from collections.abc import Callable
from functools import wraps
from typing import ParamSpec

from flask import Response

from reports.locales import DEFAULT, speaking
from service.pages.joined import joined

Given = ParamSpec("Given")


def in_the_locale(answer: Callable[Given, Response]) -> Callable[Given, Response]:
    """The same answer, made while the application's locale is spoken."""

    @wraps(answer)
    def spoken(*given: Given.args, **named: Given.kwargs) -> Response:
        with speaking(joined().locale):
            return answer(*given, **named)

    return spoken


def locale_of(form: str | None) -> str:
    """The locale of a document that is asked for in that form: for programs it is the same everywhere."""
    return DEFAULT if form == "json" else joined().locale
