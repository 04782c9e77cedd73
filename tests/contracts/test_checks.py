"""Lint, layout and types hold, so that whoever runs the tests has run them too."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize(
    "command",
    [
        pytest.param(["ruff", "check", "--no-cache"], id="lint"),
        pytest.param(["ruff", "format", "--check", "--no-cache"], id="layout"),
        pytest.param(["mypy", "--cache-dir", os.devnull], id="types"),
    ],
)
def test_the_checks_find_nothing(command):
    done = subprocess.run(
        [sys.executable, "-m", *command], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout[-3000:] + done.stderr[-1000:]
