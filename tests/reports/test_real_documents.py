"""Documents as the analysis makes them: every field that a report reads is there and is understood."""

import re

import pytest

import reports
from reports.text import terminal_lines
from reports.wording import complete
from service.analysis import analyse
from service.statistics.bell_reference import MemoryStore
from tests.analysis.made_trials import made_trial, noisy_scores
from tests.reports.plain import visible

STORE = MemoryStore()
MEANS = {"a": 20.0, "b": 19.0, "c": 18.9, "c-copy": 18.9, "a-pad": 17.0}
CONTROLS = [{"id": "c-copy", "twin_of": "c"}, {"id": "a-pad", "pad_of": "a", "pad_db": 3.0}]
TRIALS = {
    "one round": lambda: made_trial(noisy_scores(MEANS, rounds=1, sd=0.2), elements=CONTROLS),
    "two rounds": lambda: made_trial(noisy_scores(MEANS, rounds=2, sd=0.2), elements=CONTROLS),
    "six rounds": lambda: made_trial(
        noisy_scores(MEANS, rounds=6, sd=0.2), elements=CONTROLS, minutes_per_run=9
    ),
    "two elements": lambda: made_trial(noisy_scores({"a": 3.0, "b": 1.0}, rounds=7, sd=0.2)),
    "one element": lambda: made_trial(noisy_scores({"a": 3.0}, rounds=3, sd=0.2)),
    "a gap": lambda: made_trial(
        {"a": [1.0, 2.0, 3.0, 2.0], "b": [2.0, None, 3.5, 1.0], "c": [1.0, 1.5, 2.0, None]}
    ),
    "struck": lambda: made_trial(
        noisy_scores(MEANS, rounds=6, sd=0.2), struck=[{"element": "b", "round": 2, "reason": "gust"}]
    ),
    "all at the top": lambda: made_trial(
        {"a": [10.0] * 4, "b": [10.0] * 4}, signals=1, meter={"unit": "bars", "highest": 10}
    ),
    "all alike": lambda: made_trial(
        {name: [4.0, 5.0, 6.0, 4.0, 5.0, 6.0] for name in "abc"}, meter={"unit": "bars", "highest": 20}
    ),
    "a pad not seen": lambda: made_trial(
        noisy_scores(MEANS | {"a-pad": 19.9}, rounds=6, sd=0.2), elements=CONTROLS
    ),
}


@pytest.mark.parametrize("name", TRIALS)
def test_a_real_document_is_completed_and_rendered(name):
    made = TRIALS[name]()
    document = complete(analyse(made.trial, made.readings, store=STORE))
    text = visible(reports.render(document, "html").decode("utf-8"))
    assert re.findall(r"\bNone\b|\bnan\b|\binf\b|\{|\}", text) == []
    assert document["verdict"]["statement"] in text
    assert terminal_lines(document)[0] == document["verdict"]["statement"].replace("−", "-")


def test_a_real_document_becomes_a_pdf():
    made = TRIALS["six rounds"]()
    document = complete(analyse(made.trial, made.readings, store=STORE))
    assert reports.render(document, "pdf").startswith(b"%PDF-")
