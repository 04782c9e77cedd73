"""The one thing the routes are handed: the desk that judges batches."""

from typing import cast

from flask import Flask, current_app

from service.jobs.verdicts import VerdictDesk

_KEY = "aerial_assay_desk"


def hand_desk(app: Flask, desk: VerdictDesk) -> None:
    """Hand the desk to the routes of the app."""
    app.extensions[_KEY] = desk


def desk() -> VerdictDesk:
    """The desk of the app that answers the present request."""
    return cast(VerdictDesk, current_app.extensions[_KEY])
