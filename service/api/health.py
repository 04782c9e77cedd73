"""Is it alive, and would it take work?"""

from collections.abc import Mapping
from typing import Any

from flask import Response
from werkzeug.exceptions import ServiceUnavailable

from service.api.desk import desk
from service.api.noun import Noun
from service.api.schemas.health import StatusSchema
from service.api.strict_json import json_answer

health = Noun("health", __name__, description="For whoever watches over the service.")


@health.operation("/healthz", forms=[("application/json", StatusSchema)], problems=(500,))
def alive(_query: Mapping[str, Any]) -> Response:
    """Say that the process answers."""
    return json_answer({"status": "alive"})


@health.operation("/readyz", forms=[("application/json", StatusSchema)], problems=(500, 503))
def ready(_query: Mapping[str, Any]) -> Response:
    """Say whether a request for a verdict would be taken now."""
    if not desk().ready():
        raise ServiceUnavailable("All workers are busy and the line is full.", retry_after=10)
    return json_answer({"status": "ready"})
