"""What the routes of analyses are handed: the desk that keeps them."""

from typing import cast

from flask import Flask, current_app

from service.jobs.kept_analyses import KeptAnalyses

_KEY = "aerial_assay_kept_analyses"


def hand_analyses_desk(app: Flask, desk: KeptAnalyses) -> None:
    """Hand the desk to the routes of the app."""
    app.extensions[_KEY] = desk


def analyses_desk() -> KeptAnalyses:
    """The desk of the app that answers the present request."""
    return cast(KeptAnalyses, current_app.extensions[_KEY])
