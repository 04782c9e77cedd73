"""Design histories of made trials, judged by the service itself."""

from reports.wording.design_history import complete
from service.analysis.design_history import design_history
from service.statistics.bell_reference import MemoryStore
from tests.analysis.made_histories import checked, question_of

STORE = MemoryStore(capacity=50)


def document(trials, **given):
    """The history of the whip against the brass reference in these trials."""
    there = checked(trials, STORE)
    found = design_history(question_of(there, **given), there)
    analyses = {trial.id: trial.document for trial in there}
    return complete(found, [analyses[entry["id"]] for entry in found["trials"]])
