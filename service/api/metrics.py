"""GET /metrics: what this process has done, counted in a registry of its own application.

No label holds anything that a caller chose: routes are the rules they matched, methods those known, outcomes
the three. Each process counts for itself.
"""

from collections.abc import Callable, Iterator, Mapping
from typing import Any, cast

from flask import Flask, Response, current_app
from prometheus_client import CollectorRegistry, Counter, Histogram, ProcessCollector, generate_latest
from prometheus_client.core import GaugeMetricFamily, Metric
from prometheus_client.exposition import CONTENT_TYPE_LATEST
from prometheus_client.registry import Collector

from service.api.noun import Noun
from service.jobs.running import Load

KEY = "aerial_assay_metrics"
SECONDS = (0.01, 0.03, 0.1, 0.3, 1.0, 3.0, 10.0, 30.0, 120.0)
ROWS = (100, 1_000, 10_000, 100_000, 1_000_000)


class Metrics:
    """The counters of one application; used by any number of threads."""

    def __init__(self, load: Callable[[], Load]):
        self.registry = CollectorRegistry()
        self._requests = Counter(
            "aerial_assay_requests",
            "Requests answered.",
            ("method", "route", "status"),
            registry=self.registry,
        )
        self._seconds = Histogram(
            "aerial_assay_request_seconds",
            "Seconds until an answer was ready.",
            ("route",),
            buckets=SECONDS,
            registry=self.registry,
        )
        self._analyses = Counter(
            "aerial_assay_analyses", "Verdicts reached.", ("outcome",), registry=self.registry
        )
        self._rows = Histogram(
            "aerial_assay_batch_rows",
            "Rows of the readings taken in.",
            buckets=ROWS,
            registry=self.registry,
        )
        self._deliveries = Counter(
            "aerial_assay_deliveries",
            "Tries to tell the webhook of a verdict.",
            ("result",),
            registry=self.registry,
        )
        self.registry.register(_Queue(load))
        ProcessCollector(registry=self.registry)

    def answered(self, method: str, route: str, *, status: int, seconds: float) -> None:
        """Count an answer."""
        self._requests.labels(method, route, str(status)).inc()
        self._seconds.labels(route).observe(seconds)

    def analysed(self, outcome: str) -> None:
        """Count a verdict; `outcome` is one of the three."""
        self._analyses.labels(outcome).inc()

    def taken_in(self, rows: int) -> None:
        """Count a batch of readings by its rows."""
        self._rows.observe(rows)

    def delivered(self, result: str) -> None:
        """Count a try to tell the webhook; `result` is one of three."""
        self._deliveries.labels(result).inc()

    def text(self) -> bytes:
        """All of it as Prometheus reads it."""
        return generate_latest(_Plain(self.registry))


class _Plain(Collector):
    """Without the times at which counters were made, which the text form would tell as gauges."""

    def __init__(self, whole: Collector):
        self._whole = whole

    def collect(self) -> Iterator[Metric]:
        for metric in self._whole.collect():
            metric.samples = [one for one in metric.samples if one.name != f"{metric.name}_created"]
            yield metric


class _Queue(Collector):
    """The work at hand when it is asked for."""

    def __init__(self, load: Callable[[], Load]):
        self._load = load

    def collect(self) -> Iterator[GaugeMetricFamily]:
        load = self._load()
        yield GaugeMetricFamily("aerial_assay_work_running", "Analyses under way.", load.working)
        yield GaugeMetricFamily("aerial_assay_work_waiting", "Analyses that wait for a worker.", load.waiting)


def hand_metrics(app: Flask, counted: Metrics) -> None:
    """Hand the counters to the app."""
    app.extensions[KEY] = counted


def metrics() -> Metrics:
    """The counters of the app that answers the present request."""
    return cast(Metrics, current_app.extensions[KEY])


measured = Noun("metrics", __name__, description="For whoever watches over the service.")


@measured.operation("/metrics", may="admin", forms=[("text/plain", {"type": "string"})], problems=(500,))
def metrics_text(_query: Mapping[str, Any]) -> Response:
    """Count what this process has done, in the text form of Prometheus."""
    return Response(metrics().text(), content_type=CONTENT_TYPE_LATEST)
