"""What the application hands the pages: the desks, whose request it is, and how an error is told."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Protocol, cast

from flask import Flask, Response, current_app

from service.jobs.kept_desks import KeptDesks
from service.jobs.verdicts import VerdictDesk
from service.settings import Limits

_KEY = "aerial_assay_pages"


@dataclass(frozen=True)
class Forms:
    """The forms that a verdict, a plan and a design check can be had in: media type by name."""

    verdict: Mapping[str, str]
    plan: Mapping[str, str]
    check: Mapping[str, str]


class AsFile(Protocol):
    """Makes an answer of a rendered report."""

    def __call__(self, report: bytes, form: str, forms: Mapping[str, str], *, named: str) -> Response:
        """The report with its media type and, but for pages, the name to keep it under, without ending."""


@dataclass(frozen=True)
class Joined:
    """All that pages use of the rest of the service.

    owner: whose the present request is. problem: the answer of a route to an error, as problem+json. locale:
    how numbers and dates are written, and on which paper reports are printed.
    """

    verdicts: Callable[[], VerdictDesk]
    kept: Callable[[], KeptDesks]
    owner: Callable[[], str]
    problem: Callable[[Exception], Response]
    report: AsFile
    forms: Forms
    limits: Limits
    locale: str


def hand_joined(app: Flask, joined: Joined) -> None:
    """Hand it to the pages of the app."""
    app.extensions[_KEY] = joined


def joined() -> Joined:
    """What the pages of the app that answers the present request were handed."""
    return cast(Joined, current_app.extensions[_KEY])
