"""A server that recipes send to: it wants a token, and is killed and started as a test says."""

import json
import os
import sys
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import httpx

from service.operations.token import token
from tests.faults.servers import Server, Starter, free_port, lives
from tests.operations.kept_rows import run

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
COMMANDS = Path(sys.executable).parent
TRIAL = {"meter": {"unit": "dBuV", "resolution": 0.1}, "margin": 1.0, "planned_rounds": 6}
LINES = (EXAMPLES / "readings.ndjson").read_text(encoding="utf-8").splitlines()


@dataclass
class Service:
    """A server at a port, which its token opens, and the database of its trials."""

    folder: Path
    starter: Starter
    port: int = field(default_factory=free_port)
    token: str = ""
    server: Server | None = None

    def __post_init__(self) -> None:
        self.token = run(token, self.database, "add", "shed", "--may", "write").output.strip()

    @property
    def database(self) -> str:
        return f"sqlite:///{self.folder / 'kept.sqlite3'}"

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    @property
    def environment(self) -> dict[str, str]:
        """What the recipes are told of it."""
        path = os.pathsep.join([str(COMMANDS), os.environ["PATH"]])
        return {**os.environ, "PATH": path, "SERVER": self.url, "AERIAL_ASSAY_TOKEN": self.token}

    def start(self) -> Server:
        self.server = self.starter.start(self.database, self.port, tokens="required").wait()
        return self.server

    def close(self) -> None:
        if self.server is not None and lives(self.server.process):
            self.server.kill()

    def ask(self, method: str, path: str, **asked: Any) -> Any:
        headers = {"Authorization": f"Bearer {self.token}"}
        answer = httpx.request(method, self.url + path, headers=headers, timeout=60, **asked)
        assert answer.is_success, answer.text
        return answer.json()

    def new_trial(self) -> str:
        return self.ask("POST", "/v1/trials", json=TRIAL)["id"]

    def cells(self, trial: str) -> Counter:
        """How often each reading is kept."""
        kept = self.ask("GET", f"/v1/trials/{trial}/readings?limit=1000")["readings"]
        return Counter((each["element"], each["round"], each["channel"], each["value"]) for each in kept)

    def batches(self, trial: str) -> int:
        return len(self.ask("GET", f"/v1/trials/{trial}")["kept"]["history"]["batches"])


def cells_of(lines: Iterable[str]) -> Counter:
    return Counter((r["element"], r["round"], r["channel"], r["value"]) for r in map(json.loads, lines))
