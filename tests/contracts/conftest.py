"""A server of the installed command, on a free port."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.contracts.recipe_service import Service

COMMAND = Path(sys.executable).with_name("aerial-assay")


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    """The address that `aerial-assay serve --port 0` says it listens on."""
    environment = {**os.environ, "AERIAL_ASSAY_REFERENCES": str(tmp_path_factory.mktemp("references"))}
    process = subprocess.Popen(
        [COMMAND, "serve", "--port", "0", "--workers", "1"],
        env=environment, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True,
    )  # fmt: skip
    with process:
        said = process.stdout.readline()
        address = re.search(r"http://\S+", said)
        assert address, said
        yield address.group()
        process.terminate()
    assert process.returncode == 0


@pytest.fixture
def service(tmp_path, monkeypatch):
    monkeypatch.setenv("AERIAL_ASSAY_TOKENS", "required")
    service = Service(tmp_path)
    yield service
    service.starter.close()
