"""Requests made from the description, many of them, each answer held against all that the description says.

python -m tests.contracts.many_cases --cases 20000

First every route with each of its parameters at the edges of what is described, then drawn requests, and
sequences of requests along the links of the description, until so many have been sent.
"""

import argparse
import sys
import tempfile
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import schemathesis
from hypothesis import strategies as st
from schemathesis.config import SchemathesisConfig
from schemathesis.engine import events, from_schema

from service.app import create_app
from service.settings import Limits, Settings
from tests.contracts.described_answers import OPENAPI, Watch

EXAMPLES = OPENAPI / "examples"
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
REFUSED_THOUGH_DESCRIBED = ["2xx", "3xx", 400, 404, 406, 409, 412, 413, 415, 422, 428]
"""What a request that fits the description may be answered: schemas say what a trial looks like, not whether
its numbers agree with one another, which id is kept, or which cursor came from us."""
REFUSED = [400, 401, 403, 404, 405, 406, 409, 412, 413, 415, 422, 428, 429]
PHASES = ("coverage", "fuzzing", "stateful")
LIMITS = Limits(readings=20_000, pairs_times_rounds=2_000, requests_per_minute=10**9)


@dataclass
class Tally:
    """What was sent and what was wrong, each with the request that shows it."""

    sent: int = 0
    statuses: Counter[int] = field(default_factory=Counter)
    routes: Counter[str] = field(default_factory=Counter)
    wrong: dict[str, str] = field(default_factory=dict)

    def add(self, event: events.ScenarioFinished) -> None:
        """Count what one sequence of requests came to."""
        recorder = event.recorder
        for number, interaction in recorder.interactions.items():
            self.sent += 1
            self.statuses[interaction.response.status_code if interaction.response else 0] += 1
            for check in recorder.checks.get(number, []):
                if check.failure_info is not None:
                    failure = check.failure_info.failure
                    self.wrong.setdefault(
                        f"{failure.operation}: {failure.title}: {failure.message[:300]}",
                        check.failure_info.code_sample,
                    )
        for case in recorder.cases.values():
            self.routes[case.value.operation.label] += 1

    def lines(self) -> list[str]:
        """The counts, as printed."""
        server = sum(count for status, count in self.statuses.items() if status >= 500 or status == 0)
        return [
            f"requests sent: {self.sent} to {len(self.routes)} routes",
            f"answered {dict(sorted(self.statuses.items()))}",
            f"server errors: {server}; answers not as described: {len(self.wrong)}",
        ]


def draw_tables() -> None:
    """Let bodies that are no JSON be drawn: the examples, and short tables."""
    for media_type, pattern in (
        ("text/csv", "*.csv"),
        ("text/tab-separated-values", "*.csv"),
        ("application/x-ndjson", "*.ndjson"),
        (XLSX, "*.xlsx"),
    ):
        bodies = [path.read_bytes() for path in sorted(EXAMPLES.glob(pattern))]
        if media_type == "text/tab-separated-values":
            bodies = [body.replace(b";", b"\t").replace(b",", b"\t") for body in bodies]
        schemathesis.openapi.media_type(media_type, st.one_of(_table(), st.sampled_from(bodies)))
    schemathesis.openapi.media_type("application/zip", st.binary(max_size=200))
    schemathesis.openapi.media_type("application/octet-stream", st.one_of(_table(), st.binary(max_size=200)))


def _table() -> st.SearchStrategy[bytes]:
    row = st.tuples(
        st.sampled_from(["rod", "wire", "tube"]), st.integers(1, 4), st.integers(21, 24), st.integers(0, 10)
    )
    rows = st.lists(row, max_size=12)
    return rows.map(
        lambda made: "\n".join(
            ["element,round,channel,value", *(",".join(map(str, one)) for one in made), ""]
        ).encode()
    )


def configuration(phases: tuple[str, ...], *, each: int, seed: int) -> SchemathesisConfig:
    """All checks, in these phases, with so many examples drawn for each route."""
    return SchemathesisConfig.from_dict(
        {
            "seed": seed,
            "continue-on-failure": True,
            "max-failures": 10**6,
            "warnings": False,
            "generation": {"max-examples": each, "database": "none", "no-shrink": True},
            "phases": {
                "examples": {"enabled": False},
                **{name: {"enabled": name in phases} for name in PHASES},
            },
            "checks": {
                "positive_data_acceptance": {"expected-statuses": REFUSED_THOUGH_DESCRIBED},
                "negative_data_rejection": {"expected-statuses": REFUSED},
                "missing_required_header": {"expected-statuses": [404, 415, 422, 428]},
            },
        }
    )


def send(
    cases: int,
    folder: Path,
    *,
    seed: int = 1,
    edges: bool = True,
    each: int = 100,
    told: Callable[[Tally], None] = lambda _tally: None,
) -> Tally:
    """Send so many requests to an application of its own, with all it keeps in the folder.

    edges: whether the edges of all parameters come first. each: how many are drawn for a route in one go.
    """
    draw_tables()
    app = create_app(Settings(database=f"sqlite:///{folder / 'kept.sqlite3'}", limits=LIMITS))
    watch, tally = Watch(), Tally()
    watch.listen()
    phases = ("coverage",) if edges else ("fuzzing", "stateful")
    try:
        while tally.sent < cases:
            _send_some(app, tally, cases, configuration(phases, each=each, seed=seed))
            phases, seed = ("fuzzing", "stateful"), seed + 1
            tally.wrong |= dict.fromkeys(watch.heard(), "")
            told(tally)
    finally:
        watch.end()
        app.close()
        app.database.close()
    return tally


def _send_some(app: Any, tally: Tally, cases: int, config: SchemathesisConfig) -> None:
    schema = schemathesis.openapi.from_wsgi("/v1/openapi.json", app, config=config)
    stream = from_schema(schema).execute()
    for event in stream:
        if isinstance(event, events.ScenarioFinished):
            tally.add(event)
        elif isinstance(event, events.NonFatalError | events.FatalError):
            tally.wrong.setdefault(f"could not be tried: {getattr(event, 'label', '')} {_told(event)}", "")
        if tally.sent >= cases:
            stream.stop()


def _told(event: Any) -> str:
    return event.info.format()[:300] if hasattr(event, "info") else str(event.exception)


def main() -> int:
    """Print the counts; 1 where anything is wrong."""
    parser = argparse.ArgumentParser(prog="python -m tests.contracts.many_cases")
    parser.add_argument("--cases", type=int, default=20_000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="assay-cases-") as folder:
        tally = send(
            asked.cases,
            Path(folder),
            seed=asked.seed,
            told=lambda so_far: print(f"{so_far.sent} sent, {len(so_far.wrong)} wrong", flush=True),
        )
    print("\n".join(tally.lines()))
    for fault, sample in list(tally.wrong.items())[:40]:
        print(f"- {fault}\n  {sample}")
    return bool(tally.wrong) or any(status >= 500 or status == 0 for status in tally.statuses)


if __name__ == "__main__":
    sys.exit(main())
