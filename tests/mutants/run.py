"""Try each change of `changes` against the tests of the decision rule; what no test notices has survived.

python -m tests.mutants.run --only leader

works on a copy of the project in a temporary folder and prints one line a change, then the counts.
"""

import argparse
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from pathlib import Path

from tests.mutants.changes import CHANGES, Change

PROJECT = Path(__file__).parents[2]
COPIED = ("service", "reports", "openapi", "tests", "pyproject.toml")
TESTS = (
    "tests/statistics/test_least_squares.py",
    "tests/statistics/test_standing.py",
    "tests/statistics/test_judgement.py",
    "tests/statistics/test_judgement_told.py",
    "tests/statistics/test_looks_taken.py",
    "tests/statistics/test_rounds_needed.py",
    "tests/check_values/test_reference_library.py",
    "tests/reference_judgement/test_agreement.py",
)


def main() -> None:
    """Try all changes, or those of one module."""
    asked = argparse.ArgumentParser(description="Which changes to the decision rule no test notices.")
    asked.add_argument("--only", default="", help="the changes of this module alone")
    only = asked.parse_args().only
    counts: Counter[tuple[str, str]] = Counter()
    with tempfile.TemporaryDirectory() as folder:
        copy = copied(Path(folder))
        if not passes(copy):
            raise SystemExit("The tests fail with the code as it is: nothing can be told by them.")
        for change in (one for one in CHANGES if only in ("", one.module)):
            result = tried(change, copy)
            counts[change.module, result] += 1
            print(f"{result}: {change.module}: {change.was!r} -> {change.became!r}", flush=True)
    for (module, result), number in sorted(counts.items()):
        print(module, result, number)


def copied(folder: Path) -> Path:
    """The project without anything compiled, in the folder."""
    for name in COPIED:
        source = PROJECT / name
        if source.is_dir():
            shutil.copytree(source, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy(source, folder / name)
    return folder


def tried(change: Change, copy: Path) -> str:
    """`killed`, or `survived` where all tests pass; the copy is whole again afterwards."""
    path = copy / "service" / "statistics" / f"{change.module}.py"
    whole = path.read_text(encoding="utf-8")
    path.write_text(change.applied(whole), encoding="utf-8")
    try:
        return "survived" if passes(copy) else "killed"
    finally:
        path.write_text(whole, encoding="utf-8")


def passes(copy: Path) -> bool:
    """Whether the tests of the copy pass. Raises RuntimeError where they cannot be run."""
    command = [sys.executable, "-B", "-m", "pytest", "-x", "-n", "0", *TESTS]
    ended = subprocess.run(command, cwd=copy, capture_output=True, check=False)
    if ended.returncode not in (0, 1):
        raise RuntimeError(ended.stdout.decode() + ended.stderr.decode())
    return ended.returncode == 0


if __name__ == "__main__":
    main()
