"""The command in this process, from its arguments to its status: a new process costs seconds for each case.

That the status reaches whoever starts a process, and what a start costs, is shown by real ones beside it.
"""

import json
import logging
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from socketserver import StreamRequestHandler, UnixStreamServer

import pytest
from click.testing import CliRunner

from service.__main__ import main


def run_here(*arguments: object, folder: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    """What the command prints and how it ends, started in a folder; the log of the tests stays as it is."""
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        patch.setattr(sys, "argv", ["aerial-assay", *map(str, arguments)])
        patch.setattr(logging.getLogger(), "handlers", [])
        for name, value in environment.items():
            patch.setenv(name, value)
        with CliRunner().isolation() as (printed, said, _), pytest.raises(SystemExit) as ended:
            main()
    told = (stream.getvalue().decode().replace("\r\n", "\n") for stream in (printed, said))
    return subprocess.CompletedProcess(arguments, ended.value.code or 0, *told)


ASKING = """
import json, os, socket, sys
with socket.socket(socket.AF_UNIX) as line:
    line.connect({address!r})
    asked = line.makefile("rw", encoding="utf-8")
    asked.write(json.dumps([sys.argv[1:], os.getcwd(), dict(os.environ)]) + "\\n")
    asked.flush()
    status, printed, said = json.loads(asked.readline())
sys.stdout.write(printed)
sys.stderr.write(said)
sys.exit(status)
"""


class _Asked(StreamRequestHandler):
    """Runs the command that a program asks for, and tells it what came of that."""

    def handle(self) -> None:
        arguments, folder, environment = json.loads(self.rfile.readline())
        done = run_here(*arguments, folder=Path(folder), **environment)
        told = [done.returncode, done.stdout, done.stderr]
        self.wfile.write(json.dumps(told).encode() + b"\n")


@contextmanager
def named_program(folder: Path) -> Iterator[Path]:
    """A program `aerial-assay` in a folder: whatever calls it by its name has the command run here."""
    address = str(folder / "line")
    program = folder / "aerial-assay"
    program.write_text(f"#!{sys.executable} -ES\n{ASKING.format(address=address)}", encoding="utf-8")
    program.chmod(0o755)
    with UnixStreamServer(address, _Asked) as server:
        thread = threading.Thread(target=lambda: server.serve_forever(poll_interval=0.02), daemon=True)
        thread.start()
        try:
            yield folder
        finally:
            server.shutdown()
            thread.join()
