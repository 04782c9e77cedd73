"""Each example gives the kept document: to the last digit with the same libraries and processor.

Elsewhere its numbers are within 1e-12 of those kept.
"""

import json
import math

import pytest

from service.jobs.pool import Pool
from service.jobs.runners import Here
from service.jobs.verdicts import VerdictDesk, verdict_document
from service.settings import Limits
from tests.golden.cases import CASES, EXAMPLES, MADE_ON, MEDIA_TYPES, processor_digest, text_of

NO_READINGS = {
    "demo-trial.json",
    "demo-truth.json",
    "conductor-loss-request.json",
    "design-check-request.json",
    "design-check-kept-request.json",
    "design-check-named-request.json",
    "design-check-samples-request.json",
    "baseline-request.json",
    "plan-request.json",
    "design-history-trial.json",
    "design-history-request.json",
}
OF_A_HISTORY = {f"design-history-{number}.csv" for number in range(1, 5)}
"""Judged together: `tests/jobs/test_design_histories.py`."""


def differences(kept, made, path="#"):
    """Paths at which two documents differ; numbers count as equal within 1e-12 of their size."""
    if isinstance(kept, dict) and isinstance(made, dict):
        paths = [f"{path}/{key}" for key in kept.keys() ^ made.keys()]
        return paths + [
            p for key in kept.keys() & made.keys() for p in differences(kept[key], made[key], f"{path}/{key}")
        ]
    if isinstance(kept, list) and isinstance(made, list) and len(kept) == len(made):
        return [
            p
            for at, pair in enumerate(zip(kept, made, strict=True))
            for p in differences(*pair, f"{path}/{at}")
        ]
    if isinstance(kept, float) and isinstance(made, float):
        return [] if math.isclose(kept, made, rel_tol=1e-12, abs_tol=1e-12) else [path]
    return [] if kept == made else [path]


@pytest.fixture(scope="module")
def documents(tmp_path_factory):
    folder = tmp_path_factory.mktemp("references")
    return {case.file: verdict_document(case.batch, Limits(), folder) for case in CASES}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.file)
def test_the_document_is_the_one_kept(documents, case):
    kept = json.loads(case.document.read_text(encoding="utf-8"))
    made = json.loads(text_of(documents[case.file]))
    versions = [document["method"].pop("versions", None) for document in (kept, made)]
    same_machine = MADE_ON.read_text(encoding="utf-8").strip() == processor_digest()
    if versions[0] == versions[1] and same_machine:
        assert text_of(made) == text_of(kept)
    else:
        assert differences(kept, made) == []


def test_every_example_with_readings_has_its_document():
    files = {path.name for path in EXAMPLES.iterdir() if path.suffix in MEDIA_TYPES}
    files -= NO_READINGS | OF_A_HISTORY
    assert {case.file for case in CASES} == files
    assert all(case.document.exists() for case in CASES)


def test_a_difference_is_found_where_it_is():
    assert differences({"a": [1.0, {"b": 2}]}, {"a": [1.0 + 1e-9, {"b": 3}], "c": 1}) == [
        "#/c",
        "#/a/0",
        "#/a/1/b",
    ]
    assert differences({"a": 1.0}, {"a": 1.0 + 1e-15}) == []


def test_workers_and_their_number_change_nothing(documents, tmp_path):
    pool = Pool(2, waiting=4)
    try:
        for desk in (
            VerdictDesk(pool, limits=Limits(), references=tmp_path),
            VerdictDesk(Here(), limits=Limits(), references=None),
        ):
            for case in CASES[:3]:
                assert text_of(desk.document(case.batch)) == text_of(documents[case.file])
    finally:
        pool.close()
