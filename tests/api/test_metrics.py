"""/metrics: what was done is counted, for this application alone, under no name that a caller chose."""

import pytest
from prometheus_client.parser import text_string_to_metric_families

from service.app import create_app
from service.jobs.observing import tell_of
from service.settings import Settings


def samples(client) -> dict[tuple, float]:
    answer = client.get("/metrics")
    assert answer.status_code == 200
    assert answer.content_type.startswith("text/plain; version=")
    return {
        (sample.name, *sorted(sample.labels.items())): sample.value
        for family in text_string_to_metric_families(answer.text)
        for sample in family.samples
    }


def requests(found, **labels) -> float:
    return found.get(("aerial_assay_requests_total", *sorted(labels.items())), 0.0)


def test_requests_are_counted_by_route_and_status(client):
    for _ in range(3):
        client.get("/healthz")
    client.post("/healthz")
    client.get("/v1/problems/not-found")
    found = samples(client)
    assert requests(found, method="GET", route="/healthz", status="200") == 3
    assert requests(found, method="POST", route="none", status="405") == 1
    assert requests(found, method="GET", route="/v1/problems/<name>", status="200") == 1
    assert found[("aerial_assay_request_seconds_count", ("route", "/healthz"))] == 3


def test_no_gauge_tells_when_a_counter_was_made(client):
    client.get("/healthz")
    assert not [name for name, *_ in samples(client) if name.endswith("_created")]


def test_no_label_is_what_a_caller_chose(client):
    client.get("/mine-404")
    client.get("/v1/problems/mine-name")
    client.open("/healthz", method="MINE-METHOD")
    client.get("/healthz?mine=1", headers={"X-Request-Id": "mine", "Host": "mine.example"})
    text = client.get("/metrics").text
    assert "mine" not in text.lower()
    assert 'method="other"' in text


def test_verdicts_and_rows_are_counted(app, client):
    metrics = app.extensions["aerial_assay_metrics"]
    for rows, outcome in ((90, "clear winner"), (5_000, "clear winner"), (12, "needs more runs")):
        tell_of(metrics, {"read_as": {"rows": rows}, "verdict": {"outcome": outcome}})
    found = samples(client)
    assert found[("aerial_assay_analyses_total", ("outcome", "clear winner"))] == 2
    assert found[("aerial_assay_analyses_total", ("outcome", "needs more runs"))] == 1
    assert found[("aerial_assay_batch_rows_bucket", ("le", "100.0"))] == 2
    assert found[("aerial_assay_batch_rows_sum",)] == 5_102


def test_tries_to_tell_the_webhook_are_counted(app, client):
    metrics = app.extensions["aerial_assay_metrics"]
    for result in ("put off", "put off", "sent"):
        metrics.delivered(result)
    found = samples(client)
    assert found[("aerial_assay_deliveries_total", ("result", "put off"))] == 2
    assert found[("aerial_assay_deliveries_total", ("result", "sent"))] == 1


def test_the_work_at_hand_is_told(client):
    found = samples(client)
    assert found[("aerial_assay_work_running",)] == 0
    assert found[("aerial_assay_work_waiting",)] == 0
    assert found[("process_resident_memory_bytes",)] > 1e6


def test_each_application_counts_for_itself(client):
    client.get("/healthz")
    other = create_app(Settings()).test_client()
    assert requests(samples(other), method="GET", route="/healthz", status="200") == 0
    assert requests(samples(client), method="GET", route="/healthz", status="200") == 1


@pytest.mark.parametrize("method", ["POST", "DELETE"])
def test_it_is_only_read(client, method):
    assert client.open("/metrics", method=method).status_code == 405
