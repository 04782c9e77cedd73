"""GET /v1/channel-plans: from RF channels to frequencies."""

from collections.abc import Mapping
from typing import Any

from flask import Response

from service.api.noun import Noun
from service.api.schemas.radio import PlanSchema, PlansSchema
from service.api.strict_json import json_answer
from service.errors import NotKnown
from service.intake.media_types import JSON
from service.radio.channel_plan import REGIONS, channel_plan

channel_plans = Noun("channel-plans", __name__, description="From RF channels to frequencies.")


@channel_plans.operation("/v1/channel-plans", forms=[(JSON, PlansSchema)], problems=(500,))
def all_channel_plans(_query: Mapping[str, Any]) -> Response:
    """List the regions whose channel plans are known, each with its source."""
    return json_answer({"regions": [channel_plan(region).heading() for region in REGIONS]})


@channel_plans.operation("/v1/channel-plans/<region>", forms=[(JSON, PlanSchema)], problems=(404, 500))
def one_channel_plan(_query: Mapping[str, Any], region: str) -> Response:
    """List every RF channel of a region: edges, centre, band, wavelength."""
    if region not in REGIONS:
        raise NotKnown(f"There is no channel plan of {region!r}. There are: {', '.join(REGIONS)}.")
    return json_answer(channel_plan(region).document())
