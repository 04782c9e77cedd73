"""How a page is declared: its address, its method, and what a token must allow."""

from collections.abc import Callable
from typing import Final, TypeVar

from flask import Blueprint, Response
from werkzeug.exceptions import HTTPException

from service.errors import ServiceError
from service.pages.speaking import in_the_locale
from service.pages.troubles import error_page

OPEN: Final = "open"
View = TypeVar("View", bound=Callable[..., Response])


class Pages(Blueprint):
    """The pages of one subject, in the language of the locale; whatever goes wrong is told as a page."""

    def __init__(self, name: str):
        super().__init__(f"pages-{name}", __name__)
        self.register_error_handler(ServiceError, error_page)
        self.register_error_handler(HTTPException, error_page)

    def page(self, rule: str, *, method: str = "GET", may: str | None = None) -> Callable[[View], View]:
        """Route `method` and `rule` to the view.

        may: the scope that a token must hold, by default read for GET and write for all other methods; OPEN
        for a page that wants no token.
        """
        scope = may or ("read" if method == "GET" else "write")

        def declare(view: View) -> View:
            spoken = in_the_locale(view)
            spoken.may = scope  # type: ignore[attr-defined] # read by the guard
            spoken.asks_for_token = method == "GET"  # type: ignore[attr-defined] # read by the guard
            self.add_url_rule(rule, view.__name__, spoken, methods=[method])
            return view

        return declare
