"""What the routes are handed: the desk that judges batches, and those of what is kept."""

from typing import cast

from flask import Flask, current_app

from service.jobs.kept_desks import KeptDesks
from service.jobs.verdicts import VerdictDesk

LOCALE = "REPORT_LOCALE"
"""The key of the app's configuration that holds the locale of reports."""
_VERDICTS, _KEPT = "aerial_assay_desk", "aerial_assay_kept_desks"


def hand_desk(app: Flask, desk: VerdictDesk) -> None:
    """Hand the desk of verdicts to the routes of the app."""
    app.extensions[_VERDICTS] = desk


def hand_kept_desks(app: Flask, desks: KeptDesks) -> None:
    """Hand the desks of what is kept to the routes of the app."""
    app.extensions[_KEPT] = desks


def desk() -> VerdictDesk:
    """The desk of verdicts of the app that answers the present request."""
    return cast(VerdictDesk, current_app.extensions[_VERDICTS])


def kept_desks() -> KeptDesks:
    """The desks of what is kept of the app that answers the present request."""
    return cast(KeptDesks, current_app.extensions[_KEPT])


def locale(given: str | None) -> str:
    """The locale that a request gives, else that of the app."""
    return given or str(current_app.config[LOCALE])
