"""The arithmetic needs numpy and scipy alone: its tests pass where nothing else can be imported.

The environment is a folder with links to those two, to pytest and to hypothesis with what they need, and a
copy of the room; the interpreter looks nowhere else. Of each test module the first two tests are run there,
so that every module of the room is used; the workflow runs all of them with nothing else installed, and
test_imports.py looks for imports that stand within functions.
"""

import re
import shutil
import subprocess
import sys
from importlib.metadata import distribution, requires
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
WANTED = ("numpy", "scipy", "pytest", "hypothesis")


def with_requirements(names: tuple[str, ...]) -> set[str]:
    """Distributions and what they need on this platform, extras aside."""
    found, waiting = set(), list(names)
    while waiting:
        name = waiting.pop()
        if name in found:
            continue
        found.add(name)
        needed = [text for text in requires(name) or [] if ";" not in text]
        waiting += [re.match(r"[\w.-]+", text).group() for text in needed]
    return found


def link(name: str, folder: Path) -> None:
    """Links to the top-level files and folders of a distribution."""
    for file in distribution(name).files:
        top = file.parts[0]
        if top != ".." and not (folder / top).exists():
            (folder / top).symlink_to(Path(distribution(name).locate_file(top)))


QUICK = "not really_continued and not trial_by_trial and not no_oftener_than_promised"
"""Without the long simulations: they import nothing that the rest does not."""


@pytest.fixture(scope="module")
def alone(tmp_path_factory):
    packages, tree = tmp_path_factory.mktemp("packages"), tmp_path_factory.mktemp("tree")
    for name in with_requirements(WANTED):
        link(name, packages)
    for room in ("service/statistics", "tests/statistics"):
        shutil.copytree(ROOT / room, tree / room, ignore=shutil.ignore_patterns("__pycache__"))
    for file in ("service/__init__.py", "tests/__init__.py", "tests/shared_references.py"):
        shutil.copy(ROOT / file, tree / file)
    return lambda *arguments: subprocess.run(
        [sys.executable, "-I", "-S", "-c", START, str(packages), str(tree), *arguments],
        cwd=tree, capture_output=True, text=True, check=False,
    )  # fmt: skip


START = """
import sys
sys.path[:0] = sys.argv[1:3]
if sys.argv[3] == "import":
    __import__(sys.argv[4])
else:
    import pytest
    from itertools import groupby, islice

    class FirstOfEachModule:
        @pytest.hookimpl(trylast=True)
        def pytest_collection_modifyitems(self, items):
            by_module = groupby(list(items), lambda item: item.path)
            items[:] = [item for _, those in by_module for item in islice(those, 2)]

    raise SystemExit(pytest.main(sys.argv[3:], plugins=[FirstOfEachModule()]))
"""


def test_nothing_else_can_be_imported_there(alone):
    assert "No module named 'pandas'" in alone("import", "pandas").stderr
    assert alone("import", "scipy.stats").returncode == 0


def test_the_arithmetic_passes_its_tests_with_numpy_and_scipy_alone(alone):
    done = alone("-q", "-p", "no:cacheprovider", "-W", "error", "-k", QUICK, "tests/statistics")
    assert done.returncode == 0, done.stdout[-3000:] + done.stderr
    modules = len(list((ROOT / "tests" / "statistics").glob("test_*.py")))
    assert int(re.search(r"(\d+) passed", done.stdout).group(1)) > modules
