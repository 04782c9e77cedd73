"""The receiver of notices of openapi/examples, as a process of its own."""

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.contracts.recipe_service import EXAMPLES

SECRET = "s" * 32


@contextmanager
def receiving(memory: Path) -> Iterator[tuple[str, subprocess.Popen[str]]]:
    """Its address, which ends in a slash, and the process, which prints what it is told and is killed."""
    environment = {**os.environ, "WEBHOOK_SECRET": SECRET, "WEBHOOK_MEMORY": str(memory)}
    with subprocess.Popen(
        [sys.executable, EXAMPLES / "receive-notices.py", "0"],
        env=environment, text=True, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
    ) as process:  # fmt: skip
        yield re.fullmatch(r"Listening on (\S+)\n", process.stdout.readline())[1], process
        process.kill()
