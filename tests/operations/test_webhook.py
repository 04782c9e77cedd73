"""Verdicts told by a real server to a real receiver: the one of openapi/examples, and one that hangs."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import httpx
import pytest
from prometheus_client.parser import text_string_to_metric_families

from tests.api.kept_requests import TRIAL, rows
from tests.contracts.recipe_receiver import SECRET, receiving
from tests.jobs.receiver import TAKEN, Receiver, listening
from tests.started_server import Running, start
from tests.waiting import until


@contextmanager
def serving(database: str, hook: str) -> Iterator[Running]:
    """A server that tells the webhook; it has to end well if it was not killed."""
    told = {"AERIAL_ASSAY_WEBHOOK": hook, "AERIAL_ASSAY_WEBHOOK_SECRET": SECRET}
    server = start(AERIAL_ASSAY_DATABASE=database, AERIAL_ASSAY_WEBHOOK_PRIVATE="allowed", **told)
    try:
        yield server
    finally:
        ended = server.stop() if server.process.poll() is None else (0, [])
    assert ended == (0, [])


def reach_verdict(server: Running) -> dict[str, Any]:
    """The analysis of a new trial, done now."""
    with httpx.Client(base_url=server.url, timeout=60) as http:
        trial = f"/v1/trials/{http.post('/v1/trials', json=TRIAL).json()['id']}"
        readings = rows(rounds=range(1, 4))
        sent = http.post(f"{trial}/readings", content=readings, headers={"Content-Type": "text/csv"})
        assert sent.status_code == 201, sent.text
        return http.post(f"{trial}/analyses").json()


def deliveries(server: Running) -> dict[str, float]:
    """What /metrics tells of tries, by result."""
    families = text_string_to_metric_families(httpx.get(f"{server.url}/metrics").text)
    samples = (sample for family in families for sample in family.samples)
    return {
        sample.labels["result"]: sample.value
        for sample in samples
        if sample.name == "aerial_assay_deliveries_total"
    }


def test_the_receiver_of_the_examples_is_told(tmp_path):
    database = f"sqlite:///{tmp_path / 'kept.sqlite3'}"
    with (
        receiving(tmp_path / "seen.sqlite3") as (address, process),
        serving(database, f"{address}told?by=assay") as server,
    ):
        analysis = reach_verdict(server)
        verdict = analysis["analysis"]["verdict"]
        path = analysis["links"]["report"]
        assert process.stdout.readline() == f"{verdict['outcome']}: {verdict['statement']} ({path})\n"
        assert httpx.get(server.url + path).json()["verdict"] == verdict
        until(lambda: deliveries(server) == {"sent": 1})


def test_a_server_killed_while_it_sends_is_made_up_for_by_the_next(database_url):
    killed = threading.Event()
    with listening(Receiver(answers=[lambda _link: killed.wait(60), TAKEN])) as receiver:
        with serving(database_url, receiver.url) as server:
            reach_verdict(server)
            until(lambda: receiver.came != [])
            server.kill()
            killed.set()
        with serving(database_url, receiver.url):
            until(lambda: len(receiver.came) == 2)
    first, second = receiver.came
    assert first.body == second.body
    assert first.headers["signature"] != second.headers["signature"]


def test_without_a_webhook_nobody_is_told(running):
    assert reach_verdict(running)["state"] == "done"
    assert deliveries(running) == {}


def test_a_server_is_not_started_with_a_webhook_that_is_not_safe():
    with pytest.raises(AssertionError, match="AERIAL_ASSAY_WEBHOOK is not a URL to send to"):
        start(AERIAL_ASSAY_WEBHOOK="http://hooks.example/", AERIAL_ASSAY_WEBHOOK_SECRET=SECRET)
