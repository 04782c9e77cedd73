"""One store of references for all these tests, and an analysis whose document is checked whole each time."""

import json
import math
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from service.analysis import analyse
from service.statistics.bell_reference import MemoryStore
from service.trial.history import History
from tests.analysis.made_trials import MadeTrial

SCHEMA = Path(__file__).parents[2] / "openapi" / "analysis-document.schema.json"
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
    validator = jsonschema.Draft202012Validator(schema)

    def analyse_and_check(made: MadeTrial, history: History | None = None) -> dict[str, Any]:
        document = analyse(made.trial, made.readings, store=store, history=history)
        assert {type(value) for value in leaves(document)} <= {str, int, float, bool, type(None)}
        assert all(math.isfinite(value) for value in leaves(document) if isinstance(value, float))
        assert list(document) == list(schema["properties"])
        faults = [f"{list(fault.path)}: {fault.message[:200]}" for fault in validator.iter_errors(document)]
        assert faults == []
        return document

    return analyse_and_check


def leaves(value: Any) -> Iterator[Any]:
    """Every value inside lists and objects."""
    if type(value) in {dict, list}:
        for inner in value.values() if isinstance(value, dict) else value:
            yield from leaves(inner)
    else:
        yield value
