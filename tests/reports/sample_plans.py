"""Plans for the trial of the example, made by the service itself."""

import json
from pathlib import Path

from reports.wording.plan import complete_plan
from service.analysis.plan_facts import NOTHING_YET
from service.analysis.planning import plan
from service.statistics.bell_reference import MemoryStore
from service.trial.plan_question import PlanQuestion
from service.trial.trial_document import trial_from_document

EXAMPLE = Path(__file__).parents[2] / "openapi" / "examples" / "plan-request.json"
TRIAL = json.loads(EXAMPLE.read_text(encoding="utf-8"))["trial"]
STORE = MemoryStore()


def made(minutes=108, **changes):
    """Its plan for so many minutes, with these changes of the trial."""
    trial = trial_from_document({**TRIAL, **changes})
    return complete_plan(plan(trial, PlanQuestion(minutes, 6), NOTHING_YET, store=STORE))
