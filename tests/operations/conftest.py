"""A server with small limits for whatever needs none of its own."""

import pytest

from tests.started_server import start

BODY_BYTES = 5000


@pytest.fixture(scope="session")
def running():
    """One server for each test process; nothing that it was asked may stand in its log as a fault."""
    running = start(AERIAL_ASSAY_BODY_BYTES=str(BODY_BYTES))
    yield running
    assert running.stop() == (0, [])
