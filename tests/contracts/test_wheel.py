"""The built wheel carries all that the program needs to run from any folder."""

import re
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "pip", "wheel", "--no-deps", "--wheel-dir", folder, ROOT]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    (path,) = folder.glob("*.whl")
    return zipfile.ZipFile(path)


@pytest.fixture(scope="module")
def names(wheel):
    return set(wheel.namelist())


def wanted(folder: str) -> set[str]:
    """Every file of a room of the tree, as the wheel names it."""
    files = (
        path for path in (ROOT / folder).rglob("*") if path.is_file() and "__pycache__" not in path.parts
    )
    return {path.relative_to(ROOT).as_posix() for path in files}


@pytest.mark.parametrize("folder", ["service", "reports"])
def test_every_file_of_the_packages_travels(names, folder):
    assert wanted(folder) <= names


def test_templates_and_styles_are_among_them(names):
    assert any(name.startswith("reports/templates/") for name in names)
    assert any(name.startswith("reports/styles/") for name in names)


def test_the_description_and_the_demo_travel_below_the_service(names):
    assert {f"service/{name}" for name in wanted("openapi")} <= names
    assert {"service/openapi/openapi.json", "service/openapi/examples/demo-readings.csv"} <= names


def test_the_wheel_brings_nothing_else(names):
    beside = {name.split("/")[0] for name in names} - {"service", "reports"}
    assert len(beside) == 1
    assert beside.pop().endswith(".dist-info")
    assert not any("__pycache__" in name or name.endswith(".pyc") for name in names)


def test_the_command_and_the_licence_are_declared(wheel, names):
    declared = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    (entry_points,) = (name for name in names if name.endswith("/entry_points.txt"))
    target = declared["scripts"]["aerial-assay"]
    assert re.search(
        rf"^aerial-assay = {re.escape(target)}$", wheel.read(entry_points).decode(), re.MULTILINE
    )
    (licence,) = (name for name in names if name.endswith("/licenses/LICENSE"))
    assert wheel.read(licence) == (ROOT / "LICENSE").read_bytes()
