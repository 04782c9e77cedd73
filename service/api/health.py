"""Is it alive, and would it take work?"""

from collections.abc import Callable, Mapping
from typing import Any, cast

from flask import Flask, Response, current_app
from werkzeug.exceptions import ServiceUnavailable

from service.api.desk import desk
from service.api.noun import OPEN, Noun
from service.api.schemas.health import StatusSchema
from service.api.strict_json import json_answer
from service.intake.media_types import JSON

KEY = "aerial_assay_readiness"
Check = Callable[[], str | None]
"""What is wrong with something this service cannot do without; None where all is well."""

health = Noun("health", __name__, description="For whoever watches over the service.")


@health.operation("/healthz", may=OPEN, forms=[(JSON, StatusSchema)], problems=(500,))
def alive(_query: Mapping[str, Any]) -> Response:
    """Say that the process answers."""
    return json_answer({"status": "alive"})


@health.operation("/readyz", may=OPEN, forms=[(JSON, StatusSchema)], problems=(500, 503))
def ready(_query: Mapping[str, Any]) -> Response:
    """Say whether a request would be taken now: a worker to be had, and the database, if any is used."""
    wrong = [] if desk().ready() else ["All workers are busy and the line is full."]
    wrong += [told for check in _checks() if (told := check()) is not None]
    if wrong:
        raise ServiceUnavailable(" ".join(wrong), retry_after=10)
    return json_answer({"status": "ready"})


def hand_checks(app: Flask, *checks: Check) -> None:
    """Let the app ask these too before it says that it is ready."""
    app.extensions[KEY] = checks


def _checks() -> tuple[Check, ...]:
    return cast(tuple[Check, ...], current_app.extensions.get(KEY, ()))
