"""Which pages there are, and how they join the application."""

from typing import Final

from flask import Flask, Response, request
from werkzeug.exceptions import HTTPException, MethodNotAllowed, NotFound

from service.pages.board import board
from service.pages.check_page import check_page
from service.pages.enter_names import enter_names
from service.pages.enter_run import enter_run
from service.pages.error_rates_page import error_rates_page
from service.pages.joined import Joined, hand_joined, joined
from service.pages.kept_changes import kept_changes
from service.pages.kept_list import kept_list
from service.pages.kept_trial import kept_trial
from service.pages.plan_page import plan_page
from service.pages.start import start
from service.pages.static_files import static_files
from service.pages.troubles import error_page

PAGES: Final = (
    *(start, kept_list, kept_trial, kept_changes),
    *(enter_run, enter_names, board),
    *(plan_page, check_page, error_rates_page, static_files),
)
OF_ROUTES: Final = "/v1"


def join_pages(app: Flask, handed: Joined) -> None:
    """Let the app answer the pages, and browsers that ask for what is not there with a page too."""
    hand_joined(app, handed)
    for pages in PAGES:
        app.register_blueprint(pages)
    app.register_error_handler(NotFound, _not_there)
    app.register_error_handler(MethodNotAllowed, _not_there)


def _not_there(error: HTTPException) -> Response:
    """A page where a browser asks, a problem where a program does or a route of the API is meant."""
    named = request.path == OF_ROUTES or request.path.startswith(f"{OF_ROUTES}/")
    if named or "text/html" not in request.accept_mimetypes.values():
        return joined().problem(error)
    return error_page(error)
