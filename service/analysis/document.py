"""The analysis document: every part, in its fixed order, every field present."""

from typing import Any

import pandas as pd

from service.analysis.all_equal import all_equal
from service.analysis.cautions import cautions
from service.analysis.cautions.stops import ruling, stops
from service.analysis.channels import channels
from service.analysis.drift import drift
from service.analysis.elements import elements
from service.analysis.facts import Facts
from service.analysis.looks import looks
from service.analysis.method import method
from service.analysis.one_scan import one_scan
from service.analysis.pairs import pairs
from service.analysis.provenance import provenance
from service.analysis.ranking import ranking
from service.analysis.reception import reception
from service.analysis.struck import struck
from service.analysis.value_pick import value_pick
from service.analysis.verdict import verdict

FORMAT = "analysis/1"


def document(facts: Facts, frame: pd.DataFrame) -> dict[str, Any]:
    """The document of a judged trial; `frame` holds all its readings with their rounds.

    Plain JSON values only, no NaN; what cannot be computed is None. openapi/analysis-document.schema.json
    describes it whole.
    """
    stopping = stops(facts)
    ruled = ruling(facts)
    trend = drift(facts)
    order = ranking(facts, winner=ruled.winner)
    return {
        "format": FORMAT,
        "trial": facts.trial.document(),
        "read_as": dict(facts.read_as),
        "provenance": provenance(facts.trial, frame),
        "verdict": verdict(facts, ruled, stopping),
        "elements": elements(facts, order),
        "pairs": pairs(facts),
        "all_equal": all_equal(facts),
        "one_scan": one_scan(facts),
        "repeatability": facts.noise.document(),
        "drift": None if trend is None else trend.document(),
        "reception": reception(facts),
        "bands": None,
        "channels": channels(facts),
        "value_pick": value_pick(facts, order, stopped=bool(stopping)),
        "struck": struck(facts),
        "looks": looks(facts),
        "cautions": [caution.document() for caution in cautions(facts)],
        "method": method(facts),
    }
