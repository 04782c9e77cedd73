"""A design check as work: it travels to a worker and back, and what goes wrong there is told."""

import json
from pathlib import Path

import pytest

from service.errors import BadInput
from service.jobs.design_checks import CheckDesk, CheckForm
from service.jobs.pool import Pool
from service.jobs.verdicts import Batch
from service.settings import Limits
from service.trial.check_question import names_of_query

EXAMPLE = Path(__file__).parents[2] / "openapi" / "examples" / "design-check-request.json"


def test_a_check_is_made_in_a_worker_process(tmp_path):
    pool = Pool(1, waiting=1)
    desk = CheckDesk(pool, None, None, limits=Limits(), references=tmp_path)
    batch = Batch(EXAMPLE.read_bytes(), "application/json")
    try:
        assert desk.of_batch(batch, None)["outcome"] == "falls short"
        report = desk.of_batch(batch, None, CheckForm("junit"))
        assert report.content.startswith(b"<?xml")
        assert report.about == {"outcome": "falls short"}
        content = json.loads(EXAMPLE.read_text(encoding="utf-8")) | {"candidates": ["gone"]}
        with pytest.raises(BadInput) as refused:
            desk.of_batch(Batch(json.dumps(content).encode(), "application/json"), None)
        assert [fault.pointer for fault in refused.value.faults] == ["#/candidates/0"]
    finally:
        pool.close()


@pytest.mark.parametrize(
    ("baseline", "candidates", "samples", "places"),
    [
        (None, ["b"], [], ["#/baseline"]),
        ("a", [], [], ["#/candidates"]),
        ("a", ["b"] * 64, [], ["#/candidates"]),
        ("", [], [[]], ["#/baseline", "#/samples/0"]),
    ],
)
def test_names_that_are_missing_or_too_many_are_faults(baseline, candidates, samples, places):
    with pytest.raises(BadInput) as refused:
        names_of_query(baseline, candidates, samples)
    assert [fault.pointer for fault in refused.value.faults] == places
