"""The analysis document: every part, in its fixed order, every field present."""

from typing import Any

import pandas as pd

from service.analysis.all_equal import all_equal
from service.analysis.bands import bands_document
from service.analysis.cautions import cautions
from service.analysis.cautions.stops import ruling, stops
from service.analysis.channels import channels
from service.analysis.conductor_loss import conductor_loss
from service.analysis.drift import drift
from service.analysis.elements import elements
from service.analysis.facts import Facts
from service.analysis.history import history
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
from service.trial.trial import Trial

FORMAT = "analysis/1"


def document(facts: Facts, frame: pd.DataFrame, *, stated: Trial) -> dict[str, Any]:
    """The document of a judged trial; `frame` holds all its readings with their rounds.

    `stated` is the trial as it was given: a kept trial is judged by the schedule of its first plan.

    Plain JSON values only, no NaN; what cannot be computed is None. openapi/analysis-document.schema.json
    describes it whole.
    """
    stopping = stops(facts)
    ruled = ruling(facts)
    trend = drift(facts)
    past = history(facts, stated)
    order = ranking(facts, winner=ruled.winner)
    return {
        "format": FORMAT,
        "trial": facts.trial.document(),
        "read_as": dict(facts.read_as),
        "provenance": provenance(facts.trial, frame, past),
        "verdict": verdict(facts, ruled, stopping),
        "elements": elements(facts, order),
        "pairs": pairs(facts),
        "all_equal": all_equal(facts),
        "one_scan": one_scan(facts),
        "repeatability": facts.noise.document(),
        "drift": None if trend is None else trend.document(),
        "reception": reception(facts),
        "bands": bands_document(facts),
        "channels": channels(facts),
        "conductor_loss": conductor_loss(facts),
        "value_pick": value_pick(facts, order, ruled),
        "struck": struck(facts),
        "looks": looks(facts),
        "history": past,
        "cautions": [caution.document() for caution in cautions(facts)],
        "method": method(facts),
    }
