"""The analysis document, top level.

The whole of it stands as a JSON Schema in analysis-document.schema.json beside the description.
"""

from typing import Any

from marshmallow import Schema, fields

from service.api.schemas.trial import TrialSchema, told


def _part(description: str, **options: Any) -> fields.Dict:
    return fields.Dict(keys=fields.String(), required=True, metadata=told(description), **options)


def _parts(description: str, **options: Any) -> "fields.List[dict[Any, Any]]":
    entry = fields.Dict(keys=fields.String())
    return fields.List(entry, required=True, metadata=told(description), **options)


class AnalysisSchema(Schema):
    """What the readings show. Every field is always present, null where it cannot be computed."""

    format = fields.Constant("analysis/1", required=True, metadata={"type": "string", "const": "analysis/1"})
    trial = fields.Nested(TrialSchema, required=True, metadata=told("The trial, defaults filled in."))
    read_as = _part("How the readings were understood.")
    provenance = _part("Report id, SHA-256 of the readings, first and last scan, runs.")
    verdict = _part("Outcome, winner, the sentence, the reasons, and the rounds still needed.")
    elements = _parts("Each element's place, score, totals and standing.")
    pairs = _parts("Each pair's difference, interval, p and outcome.")
    all_equal = _part("Are all elements alike? Friedman's test.", allow_none=True)
    one_scan = _part("What totals of one round are worth; null from two rounds on.", allow_none=True)
    repeatability = _part("Standard deviation and limit of one run.", allow_none=True)
    drift = _part("Trend over the trial.", allow_none=True)
    reception = _part("Which RF channels each element received.")
    bands = _parts("The pairs by band, unadjusted.", allow_none=True)
    channels = _parts("Each channel's mean and range by element.")
    conductor_loss = _part("What conductor loss alone could explain.", allow_none=True)
    value_pick = _part("The cheapest element that is not behind the leader.")
    history = _part("A kept trial's first plan, changes and batches; else null.", allow_none=True)
    struck = _part("Runs taken out, and the verdict without taking them out.")
    looks = _part("The schedule of looks and this look.")
    cautions = _parts("What to keep in mind, with the evidence.")
    method = _part("Seed, draws, critical values, versions.")
