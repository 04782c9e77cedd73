"""Who asks while the service is under load: each a thread that goes round its requests until told to stop."""

import json
import random
import threading
import time
from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from http.client import HTTPConnection, HTTPException
from pathlib import Path

from tests.faults.writers import Ledger, Writer

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
FORESEEN = {200, 201, 202, 304, 409, 429}
"""Answers that may come: 409 where the trial is being changed just now, 429 where the line is full."""
LATELY = 500
Asking = Iterator[tuple[str, str, bytes | None, dict[str, str]]]


@dataclass
class Times:
    """Seconds by route and answers that must not be, from any number of threads."""

    seconds: dict[str, list[float]] = field(default_factory=lambda: defaultdict(list))
    statuses: dict[str, dict[int, int]] = field(default_factory=lambda: defaultdict(lambda: defaultdict(int)))
    unforeseen: list[str] = field(default_factory=list)
    lock: threading.Lock = field(default_factory=threading.Lock)

    def note(self, route: str, status: int, seconds: float, content: bytes) -> None:
        """Note an answer."""
        with self.lock:
            self.seconds[route].append(seconds)
            self.statuses[route][status] += 1
            if status not in FORESEEN:
                self.unforeseen.append(f"{route}: {status} {content[:300]!r}")

    def broken(self, route: str, error: Exception) -> None:
        """Note a request that got no answer."""
        with self.lock:
            self.unforeseen.append(f"{route}: {error!r}")


class TimedWriter(Writer):
    """A writer whose requests are timed, with a pause after each."""

    def __init__(self, *arguments: object, times: Times, pause: float, **named: object):
        super().__init__(*arguments, **named)
        self._times = times
        self._between = pause

    def _ask(self, path: str, body: bytes, headers: dict[str, str]) -> tuple[int, bytes]:
        began = time.perf_counter()
        status, content = super()._ask(path, body, headers)
        self._times.note(_route("POST", path), status, time.perf_counter() - began, content)
        time.sleep(self._between)
        return status, content


class Caller(threading.Thread):
    """Asks what `asking` yields, one after the other, with a pause after each."""

    def __init__(self, port: int, asking: Asking, *, times: Times, stop: threading.Event, pause: float):
        super().__init__(daemon=True)
        self._port = port
        self._asking = asking
        self._times = times
        self._stop_asked = stop
        self._pause = pause

    def run(self) -> None:
        """Ask until told to stop."""
        connection = HTTPConnection("127.0.0.1", self._port, timeout=120)
        for method, path, body, headers in self._asking:
            if self._stop_asked.is_set():
                break
            route, began = _route(method, path), time.perf_counter()
            try:
                connection.request(method, path, body, headers)
                answer = connection.getresponse()
                content = answer.read()
            except (OSError, HTTPException) as error:
                self._times.broken(route, error)
                connection.close()
            else:
                self._times.note(route, answer.status, time.perf_counter() - began, content)
            self._stop_asked.wait(self._pause)
        connection.close()


def reading(ledger: Ledger) -> Asking:
    """Lists, trials, readings in every form, and the two routes of whoever watches."""
    dice = random.Random(1)
    while True:
        path = _some(ledger, dice)
        for tail in ("", "/readings", "/readings?form=csv", "/readings?form=ndjson&limit=100", "/analyses"):
            yield "GET", path + tail, None, {}
        yield "GET", "/v1/trials?limit=20", None, {}
        yield "GET", "/healthz", None, {}
        yield "GET", "/metrics", None, {}


def reporting(ledger: Ledger, analysed: Callable[[str], list[str]]) -> Asking:
    """Analyses of kept trials and reports on them; `analysed` gives the paths of the analyses of a trial."""
    dice = random.Random(2)
    while True:
        path = _some(ledger, dice)
        yield "POST", f"{path}/analyses", None, {}
        for analysis in analysed(path)[:1]:
            yield "GET", f"{analysis}/report?form=html", None, {}
            yield "GET", f"{analysis}/report?form=markdown", None, {}
            if dice.random() < 0.1:
                yield "GET", f"{analysis}/report?form=pdf", None, {}


def checking() -> Asking:
    """One-shot verdicts, design checks and plans, of the examples."""
    json_body = {"Content-Type": "application/json"}
    names = ("verdict", "design-check", "plan")
    bodies = {name: (EXAMPLES / f"{name}-request.json").read_bytes() for name in names}
    table = (EXAMPLES / "wide.csv").read_bytes()
    while True:
        yield "POST", "/v1/verdicts", bodies["verdict"], json_body
        yield "POST", "/v1/verdicts?unit=dBuV&form=html", table, {"Content-Type": "text/csv"}
        yield "POST", "/v1/design-checks", bodies["design-check"], json_body
        yield "POST", "/v1/plans", bodies["plan"], json_body


def analyses_of(port: int) -> Callable[[str], list[str]]:
    """Asks for the analyses of a trial that are done, the newest first."""

    def ask(path: str) -> list[str]:
        connection = HTTPConnection("127.0.0.1", port, timeout=120)
        connection.request("GET", f"{path}/analyses?limit=5")
        told = json.loads(connection.getresponse().read())
        connection.close()
        return [f"/v1/analyses/{one['id']}" for one in told.get("analyses", []) if one["state"] == "done"]

    return ask


def _some(ledger: Ledger, dice: random.Random) -> str:
    """The path of a trial that a batch was acknowledged for lately."""
    while not ledger.acknowledged:
        time.sleep(0.05)
    with ledger.lock:
        lately = list(ledger.acknowledged)[-LATELY:]
    return ledger.sent[dice.choice(lately)].trial


def _route(method: str, path: str) -> str:
    """The route of a path, with its form: what is timed together."""
    bare, _, query = path.partition("?")
    steps = ["{id}" if len(step) == 32 else step for step in bare.split("/")]
    form = next((f" {pair}" for pair in query.split("&") if pair.startswith("form=")), "")
    return f"{method} {'/'.join(steps)}{form}"
