"""Applications and servers that are let down by what they stand on."""

import os
import subprocess
import tempfile
from pathlib import Path

import pytest

from service.app import create_app
from service.settings import Settings


@pytest.fixture
def serving():
    """Makes clients of applications on a database; all are closed in the end."""
    made = []

    def serve(url: str):
        made.append(create_app(Settings(database=url)))
        return made[-1].test_client()

    yield serve
    for app in made:
        app.close()
        app.database.close()


@pytest.fixture
def small_disk():
    """A folder on a disk of 2 MiB of its own, where the owner of PostgreSQL comes too."""
    folder = Path(tempfile.mkdtemp(prefix="assay-disk-"))
    folder.chmod(0o755)
    command = ["mount", "-t", "tmpfs", "-o", "size=2m,mode=0777", "tmpfs", str(folder)]
    if os.geteuid() != 0 or subprocess.run(command, capture_output=True, check=False).returncode != 0:
        folder.rmdir()
        pytest.skip("a small disk can be had by root alone; the test by the page limit of SQLite runs")
    yield folder
    subprocess.run(["umount", "-l", str(folder)], check=True)
    folder.rmdir()
