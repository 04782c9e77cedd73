"""An application whose desk notes the batch and answers at once, so that only the HTTP is under test."""

from dataclasses import dataclass, field

import pytest

from service.api.desk import hand_desk
from service.app import create_app
from service.errors import ServiceError
from service.jobs.verdicts import Batch
from service.settings import Limits, Settings

PAGE = b"<!doctype html><title>t</title><style>p{color:#000}</style><p>verdict</p>"


@dataclass
class NotingDesk:
    """Notes every batch; raises `trouble` if it has one; is busy if told so."""

    batches: list[Batch] = field(default_factory=list)
    reports: list[tuple[str, str]] = field(default_factory=list)
    trouble: Exception | None = None
    busy: bool = False

    def document(self, batch: Batch) -> dict[str, object]:
        self.batches.append(batch)
        if self.trouble is not None:
            raise self.trouble
        return {"format": "analysis/1"}

    def report(self, batch: Batch, *, form: str, paper: str) -> bytes:
        self.document(batch)
        self.reports.append((form, paper))
        return PAGE if form == "html" else b"%PDF-1.7"

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


@pytest.fixture(scope="module")
def kept_client(database_url):
    """A client of an application that keeps trials in a database of each kind."""
    app = create_app(Settings(database=database_url))
    yield app.test_client()
    app.close()
    app.database.close()
