"""What the routes of kept trials are handed: the desk of the trials and that of their readings."""

from typing import cast

from flask import Flask, current_app

from service.jobs.kept_readings import KeptReadings
from service.jobs.kept_trials import KeptTrials

_TRIALS, _READINGS = "aerial_assay_kept_trials", "aerial_assay_kept_readings"


def hand_kept_desks(app: Flask, trials: KeptTrials, readings: KeptReadings) -> None:
    """Hand the desks to the routes of the app."""
    app.extensions[_TRIALS] = trials
    app.extensions[_READINGS] = readings


def trials_desk() -> KeptTrials:
    """The desk of the trials of the app that answers the present request."""
    return cast(KeptTrials, current_app.extensions[_TRIALS])


def readings_desk() -> KeptReadings:
    """The desk of the readings of the app that answers the present request."""
    return cast(KeptReadings, current_app.extensions[_READINGS])
