"""How long the command takes to start, against importing the numerical libraries alone.

python tests/benchmarks/command_start.py
"""

import subprocess
import sys
from functools import partial
from pathlib import Path

from workload import say, seconds

COMMAND = Path(sys.executable).with_name("aerial-assay")
SMALL = Path(__file__).parents[2] / "openapi" / "examples" / "wide.csv"
HELP_BAR, VERDICT_BAR = 0.25, 3.0


def run(*command: object) -> None:
    """Run a command to its end, its output thrown away."""
    subprocess.run([str(part) for part in command], check=True, stdout=subprocess.DEVNULL)


def main() -> None:
    """Print both ratios."""
    imports = seconds(partial(run, sys.executable, "-c", "import numpy, scipy.stats"))
    help_text = seconds(partial(run, COMMAND, "--help"))
    verdict = seconds(partial(run, COMMAND, "verdict", SMALL, "--unit", "dBuV"))
    say("aerial-assay --help / import numpy, scipy.stats", help_text / imports, HELP_BAR)
    say("aerial-assay verdict of a small file / import numpy, scipy.stats", verdict / imports, VERDICT_BAR)


if __name__ == "__main__":
    main()
