"""A server of the installed command, and one that recipes send to."""

import pytest

from tests.contracts.recipe_service import Service
from tests.started_server import INSTALLED, start


@pytest.fixture(scope="session")
def server():
    """The address that the installed `aerial-assay serve` says it listens on, one for each test process."""
    running = start(command=INSTALLED)
    yield running.url
    assert running.stop() == (0, [])


@pytest.fixture
def service(tmp_path, forked):
    service = Service(tmp_path, forked)
    yield service
    service.close()
