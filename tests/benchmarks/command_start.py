"""How long the command takes to start, against importing the numerical libraries alone.

python -m tests.benchmarks.command_start
"""

import subprocess
import sys
from collections.abc import Iterator
from functools import partial
from pathlib import Path

from tests.benchmarks.figures import Figure, in_turn, show

COMMAND = Path(sys.executable).with_name("aerial-assay")
SMALL = Path(__file__).parents[2] / "openapi" / "examples" / "wide.csv"
HELP_BAR, VERDICT_BAR = 0.25, 3.0
IMPORTING = 'python -c "import numpy, scipy.stats"'
TIMES = 9


def run(*command: object) -> None:
    """Run a command to its end, its output thrown away."""
    subprocess.run([str(part) for part in command], check=True, stdout=subprocess.DEVNULL)


def figures() -> Iterator[Figure]:
    """Both ratios."""
    imports, help_text, verdict = in_turn(
        partial(run, sys.executable, "-c", "import numpy, scipy.stats"),
        partial(run, COMMAND, "--help"),
        partial(run, COMMAND, "verdict", SMALL, "--unit", "dBuV"),
        times=TIMES,
    )
    yield Figure("`aerial-assay --help`", f"`{IMPORTING}`", help_text / imports, HELP_BAR)
    yield Figure("`aerial-assay verdict` of a small file", f"`{IMPORTING}`", verdict / imports, VERDICT_BAR)


if __name__ == "__main__":
    show(figures())
