"""The command in this process, from its arguments to its status: a new process costs seconds for each case.

That the status reaches whoever starts a process, and what a start costs, is shown by real ones beside it.
"""

import logging
import subprocess
import sys
from pathlib import Path

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
