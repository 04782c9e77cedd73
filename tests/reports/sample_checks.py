"""Design checks of made trials, judged by the service itself."""

from reports.wording.design_check import complete
from service.analysis.analyse import analysed
from service.analysis.design_check import CheckedTrial, Design, Question, design_check
from service.statistics.bell_reference import MemoryStore
from tests.analysis.made_trials import made_trial, noisy_scores

STORE = MemoryStore()


def document(levels, *, rounds=8, labels=None, lost=False):
    """A check of candidates with these levels against "old" at 20 dB; `lost`: "new" misses a signal once."""
    means = {"old": 20.0} | levels
    elements = [{"id": name, "label": label} for name, label in (labels or {}).items()]
    made = made_trial(
        noisy_scores(means, rounds=rounds, sd=0.2), margin=1.0, elements=elements, title="Invented"
    )
    if lost:
        frame = made.readings.frame
        at = frame.index[(frame["element"] == "new") & (frame["channel"] == "s1")][0]
        frame.loc[at, "value"] = float("nan")
    one = CheckedTrial(analysed(made.trial, made.readings, store=STORE))
    question = Question(Design(("old",)), tuple(Design((name,)) for name in levels))
    return complete(design_check(question, [one], store=STORE), [one.document])
