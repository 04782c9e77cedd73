"""The recipes for pipelines: their own shell steps are run, what others do in them is stood in for.

The command runs in this process wherever they call it, but for one test with the one that is installed.
"""

import os
import re
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from xml.etree import ElementTree

import pytest
import yaml

from tests.command_here import named_program

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
INSTALLED = Path(sys.executable).parent
TRIAL = (
    """{"meter": {"unit": "bars", "highest": 10, "resolution": 0.1}, "margin": 0.5, "planned_rounds": 6}"""
)
ADDRESS = "an-address-of-the-program"
HEADING, *ROWS = (EXAMPLES / "design-check.csv").read_text(encoding="utf-8").splitlines()
THIN_FOR_NEW = {"whip-new-joint": "whip-thin", "whip-thin": "whip-new-joint"}
"""Holds, falls short and needs more runs, each with its exit status and what of JUnit's counts is one."""


def all_rounds() -> list[str]:
    return ROWS


def worse_one() -> list[str]:
    """The same with the two candidates' names exchanged."""
    return [re.sub("whip-new-joint|whip-thin", lambda found: THIN_FOR_NEW[found[0]], row) for row in ROWS]


def few_rounds() -> list[str]:
    return [row for row in ROWS if int(row.split(",")[1]) <= 4]


OUTCOMES = pytest.mark.parametrize(
    ("rows", "outcome", "status", "counted"),
    [
        (all_rounds(), "holds", 0, None),
        (worse_one(), "falls short", 1, "failures"),
        (few_rounds(), "needs more runs", 2, "skipped"),
    ],
)


@dataclass(frozen=True)
class Workspace:
    """A folder with the readings and the trial, and a `pip` that only notes what it was asked for."""

    folder: Path
    environment: dict[str, str]

    @classmethod
    def make(cls, place: Path, commands: Path, rows: list[str]) -> "Workspace":
        folder, stand_ins = place / "workspace", place / "bin"
        folder.mkdir()
        stand_ins.mkdir()
        (folder / "readings.csv").write_text("\n".join([HEADING, *rows, ""]), encoding="utf-8")
        (folder / "trial.json").write_text(TRIAL, encoding="utf-8")
        pip = stand_ins / "pip"
        pip.write_text(f'#!/bin/sh\necho "$*" >> "{place / "installed"}"\n')
        pip.chmod(0o755)
        path = os.pathsep.join([str(stand_ins), str(commands), os.environ["PATH"]])
        return cls(folder, {**os.environ, "PATH": path, "ASSAY": ADDRESS})

    def installed(self) -> str:
        return (self.folder.parent / "installed").read_text()

    def run(self, script: str, environment: dict[str, str]) -> int:
        """The exit status of a script, run as both services do: by bash, ending at the first failure."""
        command = ["bash", "-e", "-o", "pipefail", "-c", script]
        done = subprocess.run(command, cwd=self.folder, env={**self.environment, **environment}, check=False)
        return done.returncode


@dataclass
class Workflow:
    """Runs the steps of a job of GitHub Actions; `kept` is where artefacts go."""

    workspace: Workspace
    kept: Path
    status: int = 0

    def run(self, text: str) -> int:
        job = yaml.safe_load(text.replace("${{ vars.ASSAY }}", ADDRESS))["jobs"]["design-check"]
        assert "${{" not in str(job)
        environment = {**job["env"], "GITHUB_STEP_SUMMARY": str(self.kept / "summary.md")}
        for step in job["steps"]:
            if self.status == 0 or step.get("if") == "always()":
                self.take(step, environment)
        return self.status

    def take(self, step: dict, environment: dict[str, str]) -> None:
        if "run" in step:
            self.status = self.workspace.run(step["run"], environment) or self.status
            return
        action, version = step["uses"].split("@")
        assert re.fullmatch(r"v\d+", version)
        assert action in {"actions/checkout", "actions/setup-python", "actions/upload-artifact"}
        if action == "actions/upload-artifact":
            shutil.copy(self.workspace.folder / step["with"]["path"], self.kept)


def counts(junit: Path) -> dict[str, int]:
    """The cases, and those of each kind that is not a pass, of a JUnit file."""
    root = ElementTree.parse(junit).getroot()  # noqa: S314 (made by the command under test)
    suites = root.iter("testsuite")
    found = {"tests": 0, "failures": 0, "errors": 0, "skipped": 0}
    for suite in suites:
        for name in found:
            found[name] += int(suite.get(name, "0"))
    return found


def assert_counted(junit: Path, counted: str | None) -> None:
    found = counts(junit)
    assert found.pop("tests") >= 1
    assert {name for name, count in found.items() if count} == ({counted} if counted else set())


@pytest.fixture(scope="module")
def commands(tmp_path_factory):
    with named_program(tmp_path_factory.mktemp("bin")) as folder:
        yield folder


@OUTCOMES
def test_the_workflow_for_github(tmp_path, commands, *, rows, outcome, status, counted):
    kept = tmp_path / "kept"
    kept.mkdir()
    workspace = Workspace.make(tmp_path, commands, rows)
    text = (EXAMPLES / "github-actions.yml").read_text(encoding="utf-8")
    assert Workflow(workspace, kept).run(text) == status
    assert workspace.installed() == f"install {ADDRESS}\n"
    assert_counted(kept / "design-check.xml", counted)
    summary = (kept / "summary.md").read_text(encoding="utf-8")
    assert summary.startswith("###")
    assert outcome in summary.split("\n\n")[0]


def test_the_workflow_for_github_fails_at_bad_input(tmp_path, commands):
    kept = tmp_path / "kept"
    kept.mkdir()
    workspace = Workspace.make(tmp_path, commands, [*ROWS, "whip-brass,9,Quay,31,?"])
    text = (EXAMPLES / "github-actions.yml").read_text(encoding="utf-8")
    with pytest.raises(FileNotFoundError, match=r"design-check\.xml"):  # upload-artifact would only warn
        Workflow(workspace, kept).run(text)
    assert (kept / "summary.md").read_text() == ""


def gitlab_job() -> dict:
    return yaml.safe_load((EXAMPLES / "gitlab-ci.yml").read_text(encoding="utf-8"))["design-check"]


@OUTCOMES
def test_the_job_for_gitlab(tmp_path, commands, *, rows, outcome, status, counted):
    workspace, job = Workspace.make(tmp_path, commands, rows), gitlab_job()
    assert workspace.run("\n".join(job["script"]), job["variables"]) == status
    assert workspace.installed() == f"install {ADDRESS}\n"
    assert job["artifacts"]["when"] == "always"
    assert_counted(workspace.folder / job["artifacts"]["reports"]["junit"], counted)
    (page,) = job["artifacts"]["paths"]
    assert outcome in (workspace.folder / page).read_text(encoding="utf-8").split("\n\n")[0]
    warned = status in job["allow_failure"]["exit_codes"]
    assert warned == (outcome == "needs more runs")


def test_the_job_for_gitlab_fails_at_bad_input(tmp_path, commands):
    workspace = Workspace.make(tmp_path, commands, [*ROWS, "whip-brass,9,Quay,31,?"])
    job = gitlab_job()
    status = workspace.run("\n".join(job["script"]), job["variables"])
    assert status not in {0, *job["allow_failure"]["exit_codes"]}


def test_the_command_that_is_installed_does_the_same_in_the_job_for_gitlab(tmp_path):
    workspace, job = Workspace.make(tmp_path, INSTALLED, worse_one()), gitlab_job()
    assert workspace.run("\n".join(job["script"]), job["variables"]) == 1
    assert_counted(workspace.folder / job["artifacts"]["reports"]["junit"], "failures")
