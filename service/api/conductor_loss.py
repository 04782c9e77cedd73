"""POST /v1/conductor-loss: what the metal alone could explain."""

from collections.abc import Mapping
from typing import Any

from flask import Response, request

from service.api.bodies import whole_body
from service.api.noun import Noun
from service.api.schemas.radio import LossAnswerSchema, LossQuestionSchema
from service.api.strict_json import json_answer
from service.api.unread_media import not_read
from service.intake.media_types import JSON
from service.intake.strict_json import strict_json
from service.jobs.conductor_losses import conductor_losses

BODY = {
    "required": True,
    "description": "Two elements of one antenna, at RF channels of a region or at frequencies.",
    "content": {JSON: {"schema": LossQuestionSchema}},
}

conductor_loss = Noun("conductor-loss", __name__, description="What the metal alone could explain.")


@conductor_loss.operation(
    "/v1/conductor-loss",
    method="POST",
    may="read",
    forms=[(JSON, LossAnswerSchema)],
    problems=(400, 403, 413, 415, 500),
    requestBody=BODY,
)
def losses_of_two(_query: Mapping[str, Any]) -> Response:
    """Tell what conductor loss alone could explain between two elements, at each RF channel.

    Where a formula does not hold the answer says so and gives bounds instead of a number. Nothing is kept.
    """
    if request.mimetype != JSON:
        raise not_read(request.mimetype, (JSON,))
    return json_answer(conductor_losses(strict_json(whole_body(request))))
