"""Who may import whom: the contracts of pyproject.toml, and the allow-lists that deny-lists cannot hold."""

import re
import subprocess
import sys
from pathlib import Path

import grimp
import pytest

ROOT = Path(__file__).parents[2]
OWN = {"service", "reports"}


@pytest.fixture(scope="module")
def graph():
    return grimp.build_graph("service", "reports", include_external_packages=True, cache_dir=None)


def packages_imported_by(graph: grimp.ImportGraph, room: str) -> set[str]:
    """Top-level packages beyond the standard library that modules of a room import, themselves left out."""
    members = {room} | graph.find_descendants(room)
    imported = {name for member in members for name in graph.find_modules_directly_imported_by(member)}
    return {name.split(".")[0] for name in imported} - OWN - sys.stdlib_module_names


def rooms_imported_by(graph: grimp.ImportGraph, room: str) -> set[str]:
    """Modules of this project outside the room that its modules import, as `package.room`."""
    members = {room} | graph.find_descendants(room)
    imported = {name for member in members for name in graph.find_modules_directly_imported_by(member)}
    own = {name for name in imported - members if name.split(".")[0] in OWN}
    return {".".join(name.split(".")[:2]) for name in own}


@pytest.mark.parametrize(
    ("room", "allowed"),
    [
        ("service.radio", set()),
        ("service.statistics", {"numpy", "scipy"}),
        ("service.trial", {"numpy", "pandas"}),
        ("service.intake", {"numpy", "pandas"}),
        ("service.analysis", {"numpy", "pandas", "scipy"}),
        ("service.storage", {"alembic", "numpy", "platformdirs", "sqlalchemy"}),
        ("service.jobs", {"numpy", "scipy", "dask", "distributed", "httpcore"}),
        ("service.pages", {"flask", "jinja2", "werkzeug"}),
        ("service.errors", set()),
        ("service.settings", set()),
        ("reports", {"jinja2", "markupsafe", "matplotlib", "openpyxl", "weasyprint"}),
    ],
)
def test_a_room_imports_no_package_beyond_its_own(graph, room, allowed):
    assert packages_imported_by(graph, room) <= allowed


@pytest.mark.parametrize(
    ("room", "allowed"),
    [
        ("service.radio", {"service.errors"}),
        ("service.statistics", set()),
        ("service.trial", {"service.radio", "service.statistics", "service.errors", "service.settings"}),
        (
            "service.pages",
            {
                "service.jobs",
                "service.intake",
                "service.trial",
                "service.radio",
                "service.errors",
                "service.settings",
                "reports.charts",
                "reports.checks",
                "reports.dates",
                "reports.document",
                "reports.error_rates",
                "reports.language",
                "reports.locales",
                "reports.numerals",
                "reports.page",
                "reports.plans",
                "reports.view",
                "reports.wording",
            },
        ),
        ("service.client", {"reports.text"}),
        ("service.operations", {"service.storage", "service.errors", "service.settings"}),
        ("reports", set()),
    ],
)
def test_a_room_knows_only_what_it_is_meant_to_know(graph, room, allowed):
    assert rooms_imported_by(graph, room) <= allowed


def rooms_for_developers() -> dict[str, set[str]]:
    """What the last column of the table of rooms in DEVELOPERS.md names in back-quotes, by room."""
    house = (
        (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").split("\n## The house\n")[1].split("\n## ")[0]
    )
    rows = re.findall(r"^\| `((?:service/)?\w+)/` \|.*\| ([^|]*) \|$", house, flags=re.MULTILINE)
    return {room.replace("/", "."): set(re.findall(r"`([\w.]+)`", named)) for room, named in rows}


@pytest.mark.parametrize(("room", "named"), rooms_for_developers().items())
def test_the_table_for_developers_names_what_a_room_imports_and_nothing_else(graph, room, named):
    own = {name.removeprefix("service.") for name in rooms_imported_by(graph, room)} - {"errors", "settings"}
    if "reports" in named:
        own = {name.partition(".")[0] for name in own}
    packages = {name for name in packages_imported_by(graph, room) if not name.startswith("_")}
    assert named == own | packages


def test_the_table_for_developers_holds_every_room():
    folders = {path.parent.name for path in (ROOT / "service").glob("*/__init__.py")}
    assert set(rooms_for_developers()) == {"reports", *(f"service.{name}" for name in folders)}


def test_the_library_of_the_cluster_is_known_where_it_is_used_alone(graph):
    knowing = {
        name
        for library in ("dask", "distributed")
        for name in graph.find_modules_that_directly_import(library)
    }
    assert knowing == {"service.jobs.cluster", "service.jobs.cluster_errand"}


def test_the_allow_lists_see_the_packages_that_are_there(graph):
    assert {"numpy", "scipy"} <= packages_imported_by(graph, "service.statistics")
    assert "weasyprint" in packages_imported_by(graph, "reports")


def linted(configuration: Path) -> subprocess.CompletedProcess[str]:
    """What import-linter says of the contracts in a file."""
    command = [
        Path(sys.executable).with_name("lint-imports"),
        "--no-cache",
        "--no-logo",
        "--config",
        configuration,
    ]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)


def test_the_contracts_of_pyproject_are_kept():
    outcome = linted(ROOT / "pyproject.toml")
    assert outcome.returncode == 0, outcome.stdout
    assert "0 broken" in outcome.stdout


def test_a_broken_contract_would_be_seen(tmp_path):
    broken = tmp_path / "pyproject.toml"
    broken.write_text(
        """
[tool.importlinter]
root_packages = ["service", "reports"]
include_external_packages = true
[[tool.importlinter.contracts]]
name = "statistics without numpy"
type = "forbidden"
source_modules = ["service.statistics"]
forbidden_modules = ["numpy"]
"""
    )
    outcome = linted(broken)
    assert outcome.returncode != 0
    assert "statistics without numpy BROKEN" in outcome.stdout
