"""One store of references for all these tests; analyses and checks whose documents are checked whole."""

import json
import math
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import jsonschema_rs
import pytest

from reports.wording.design_check import complete
from service.analysis import analyse
from service.analysis.analyse import analysed as analyse_whole
from service.analysis.design_check import CheckedTrial, Question, design_check
from service.statistics.bell_reference import MemoryStore
from service.trial.history import History
from tests.analysis.made_trials import MadeTrial

OPENAPI = Path(__file__).parents[2] / "openapi"
SCHEMA, CHECK_SCHEMA = OPENAPI / "analysis-document.schema.json", OPENAPI / "design-check.schema.json"
Analysed = Callable[..., dict[str, Any]]


@pytest.fixture(scope="session")
def store() -> MemoryStore:
    return MemoryStore(capacity=200)


@pytest.fixture(scope="session")
def schema() -> dict[str, Any]:
    return json.loads(SCHEMA.read_text(encoding="utf-8"))


@pytest.fixture(scope="session")
def analysed(store: MemoryStore, schema: dict[str, Any]) -> Analysed:
    """Analyse a made trial; its document must be plain, finite, in order, and as the schema says."""
    validator = jsonschema_rs.Draft202012Validator(schema)

    def analyse_and_check(made: MadeTrial, history: History | None = None) -> dict[str, Any]:
        document = analyse(made.trial, made.readings, store=store, history=history)
        assert {type(value) for value in leaves(document)} <= {str, int, float, bool, type(None)}
        assert all(math.isfinite(value) for value in leaves(document) if isinstance(value, float))
        assert list(document) == list(schema["properties"])
        faults = [
            f"{fault.instance_path}: {fault.message[:200]}" for fault in validator.iter_errors(document)
        ]
        assert faults == []
        return document

    return analyse_and_check


@pytest.fixture(scope="session")
def checked(store):
    """Ask; every document must be as the schema says, before and after its sentences are filled in."""
    schema_of_checks = json.loads(CHECK_SCHEMA.read_text(encoding="utf-8"))
    validator = jsonschema_rs.Draft202012Validator(schema_of_checks)

    def ask(trials, baseline, candidates, **more):
        histories = more.pop("histories", [None] * len(trials))
        there = [
            CheckedTrial(analyse_whole(made.trial, made.readings, store=store, history=history))
            for made, history in zip(trials, histories, strict=True)
        ]
        document = design_check(Question(baseline, tuple(candidates), **more), there, store=store)
        json.dumps(document, allow_nan=False)
        whole = complete(document, [one.document for one in there])
        for one in (document, whole):
            assert [f"{f.instance_path}: {f.message[:150]}" for f in validator.iter_errors(one)] == []
        assert list(document) == list(schema_of_checks["properties"])
        assert all(check["statement"] and check["reception_statement"] for check in whole["checks"])
        return whole

    return ask


def leaves(value: Any) -> Iterator[Any]:
    """Every value inside lists and objects."""
    if type(value) in {dict, list}:
        for inner in value.values() if isinstance(value, dict) else value:
            yield from leaves(inner)
    else:
        yield value
