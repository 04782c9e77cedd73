"""Plans for the trial of the example."""

import json
from functools import cache
from pathlib import Path

from service.analysis.plan_facts import NOTHING_YET
from service.analysis.planning import plan
from service.statistics.bell_reference import MemoryStore
from service.trial.plan_question import PlanQuestion
from service.trial.trial_document import trial_from_document

STORE = MemoryStore()
EXAMPLE = Path(__file__).parents[2] / "openapi" / "examples" / "plan-request.json"
TRIAL = json.loads(EXAMPLE.read_text(encoding="utf-8"))["trial"]


def planned(question=None, done=NOTHING_YET, **changes):
    """Its plan for 180 minutes, 6 a run, with these changes of the trial."""
    trial = trial_from_document({**TRIAL, **changes})
    return plan(trial, question or PlanQuestion(180, 6), done, store=STORE)


@cache
def usual():
    """The plan of the example; nobody may change it."""
    return planned()


def codes(document):
    """The cautions of a plan by their codes."""
    return {caution["code"]: caution for caution in document["cautions"]}
