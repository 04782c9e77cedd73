"""Bodies that would cost a careless reader much: each is refused, and little is done about it.

How long each takes is measured by hand (`bombs`); here the work is counted, which is the same on every
machine.
"""

import sys
import tracemalloc

import pytest

from tests.faults.bomb import VERDICT
from tests.faults.bombs import bombs
from tests.faults.zip_bombs import zip_bombs

EVERY = list(bombs())
PACKED = list(zip_bombs())
MOST_CALLS = 3_000_000
MOST_BYTES = 160 * 2**20
BYTES_A_BYTE = 40
"""Memory that may be used: so much, and so much for each byte sent."""


@pytest.fixture(scope="module")
def client(sqlite_app):
    client = sqlite_app.test_client()
    client.post(VERDICT, json={})  # loads what is loaded when it is first used
    return client


class Calls:
    """Counts the calls of Python functions while it is entered."""

    def __init__(self) -> None:
        self.count = 0

    def __enter__(self) -> "Calls":
        sys.setprofile(self._called)
        return self

    def __exit__(self, *_: object) -> None:
        sys.setprofile(None)

    def _called(self, _frame: object, event: str, _argument: object) -> None:
        self.count += event == "call"


@pytest.mark.parametrize("bomb", EVERY, ids=[bomb.name for bomb in EVERY])
def test_it_is_refused_with_a_problem_and_bounded_work(client, bomb):
    body = bomb.body()
    with Calls() as calls:
        answer = client.post(bomb.path, data=body, content_type=bomb.media_type)
    assert 400 <= answer.status_code < 500, answer.get_data()[:300]
    assert answer.content_type == "application/problem+json"
    assert len(answer.get_data()) < 100_000
    assert calls.count < MOST_CALLS


@pytest.mark.parametrize("bomb", PACKED, ids=[bomb.name for bomb in PACKED])
def test_what_is_packed_takes_no_more_memory_than_its_size_allows(client, bomb):
    body = bomb.body()
    tracemalloc.start()
    client.post(bomb.path, data=body, content_type=bomb.media_type)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < MOST_BYTES + BYTES_A_BYTE * len(body)
