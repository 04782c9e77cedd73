"""An application whose desk notes the batch and answers at once, so that only the HTTP is under test."""

import json
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from service.api.desk import hand_desk
from service.app import create_app
from service.errors import ServiceError
from service.jobs.verdicts import Batch
from service.settings import Limits, Settings

GOLDEN = Path(__file__).parents[1] / "golden" / "wide.csv.document.json"
DOCUMENT = json.loads(GOLDEN.read_text(encoding="utf-8"))
PAGE = b"<!doctype html><title>t</title><style>p{color:#000}</style><p>verdict</p>"
REPORTS = {
    "html": PAGE,
    "pdf": b"%PDF-1.7",
    "junit": b"<?xml version='1.0'?><testsuites/>",
    "markdown": b"### v",
    "card": b"\x89PNG\r\n",
}


@dataclass
class NotingDesk:
    """Notes every batch; raises `trouble` if it has one; is busy if told so."""

    batches: list[Batch] = field(default_factory=list)
    reports: list[tuple[str, str | None, str]] = field(default_factory=list)
    shapes: list[str] = field(default_factory=list)
    trouble: Exception | None = None
    busy: bool = False

    def document(self, batch: Batch) -> dict[str, object]:
        self.batches.append(batch)
        if self.trouble is not None:
            raise self.trouble
        return DOCUMENT

    def report(self, batch: Batch, *, form: str, paper: str | None, shape: str, locale: str) -> bytes:
        self.document(batch)
        self.reports.append((form, paper, locale))
        self.shapes.append(shape)
        return REPORTS.get(form, b"text")

    def ready(self) -> bool:
        return not self.busy

    def meets(self, trouble: ServiceError | Exception) -> None:
        self.trouble = trouble


@pytest.fixture
def desk():
    return NotingDesk()


@pytest.fixture
def app(desk):
    app = create_app(Settings(limits=Limits(body_bytes=1000)))
    hand_desk(app, desk)
    return app


@pytest.fixture
def client(app):
    return app.test_client()
