"""`aerial-assay check`: exit statuses and what is printed, as a script meets them."""

import json
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner
from flask import Flask, Response, request

from service.client import connection
from service.client.check import check
from tests.client.services import silent
from tests.command_here import run_here

ROOT = Path(__file__).parents[2]
EXAMPLES = ROOT / "openapi" / "examples"
TABLE = EXAMPLES / "design-check.csv"
FIELDS = ["--unit", "bars", "--highest", "10", "--resolution", "0.1", "--margin", "0.5"]


def run(*arguments: object) -> subprocess.CompletedProcess[str]:
    """The command as it is installed: its status is what the system sees."""
    command = [sys.executable, "-m", "service", "check", *map(str, arguments)]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)


@pytest.mark.parametrize(
    ("names", "status", "outcome"),
    [
        (["--candidate", "whip-new-joint"], 0, "holds"),
        (["--candidate", "whip-new-joint", "--candidate", "whip-thin"], 1, "falls short"),
        (["--samples", "whip-new-joint,whip-thin"], 2, "needs more runs"),
    ],
)
def test_the_status_is_that_of_the_outcome(names, status, outcome):
    names = ["--baseline", "whip-brass", *names]
    done = run_here("check", TABLE, *FIELDS, *names, folder=ROOT)
    assert (done.returncode, done.stderr) == (status, "")
    assert done.stdout.startswith(f"Outcome: {outcome}\n")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ([TABLE, *FIELDS, "--baseline", "whip-brass", "--candidate", "gone"], "--candidate: given"),
        ([TABLE, *FIELDS, "--candidate", "whip-thin"], "--baseline: Give the id"),
        ([TABLE, "--nonsense"], "No such option"),
        ([], "Give FILE; or kept trials"),
        ([TABLE, "--baseline-name", "x", "--candidate", "b"], "Leave one of them out"),
        (["--wait", "0", TABLE], "0 is not in the range"),
        (["gone.csv", "--baseline", "a", "--candidate", "b"], "cannot be read"),
        ([TABLE, *FIELDS, "--form", "card"], "There is no form 'card'"),
        (
            [TABLE, *FIELDS, "--server", "http://127.0.0.1:9", "--baseline", "a", "--candidate", "b"],
            "No service answers",
        ),
    ],
)
def test_bad_input_and_no_service_are_status_3_with_nothing_on_standard_output(arguments, said):
    done = run_here("check", *arguments, folder=ROOT)
    assert (done.returncode, done.stdout) == (3, "")
    assert said in done.stderr


def test_junit_of_a_real_check_is_the_file_and_nothing_else():
    done = run(EXAMPLES / "design-check-request.json", "--form", "junit")
    root = ElementTree.fromstring(done.stdout)  # noqa: S314 (our own)
    assert (done.returncode, root.get("failures"), root.get("tests")) == (1, "1", "4")


@pytest.fixture
def answered():
    """A stand-in service and what it was asked; by its answer's header the status is told."""
    asked = []
    answer = {"outcome": "holds", "body": b"body", "status": 200, "type": "text/plain"}

    def create_app():
        app = Flask(__name__)

        @app.post("/v1/design-checks")
        def answer_all():
            asked.append(request.args.to_dict(flat=False))
            headers = {"X-Outcome": answer["outcome"]} if answer["outcome"] else {}
            return Response(
                answer["body"], status=answer["status"], content_type=answer["type"], headers=headers
            )

        return app

    def ask(*arguments, **changes):
        answer.update(changes)
        return CliRunner().invoke(check, [str(TABLE), *arguments], obj=create_app), asked

    return ask


def test_names_fields_and_form_are_sent_as_given(answered):
    names = [
        "--baseline",
        "a",
        "--candidate",
        "b",
        "--candidate",
        "c",
        "--samples",
        "d,e",
        "--samples",
        "f,g",
    ]
    result, asked = answered(*names, "--unit", "dB", "--form", "junit", "--needs-more-runs-fails")
    assert result.exit_code == 0, result.output
    assert asked == [
        {
            "baseline": ["a"],
            "candidate": ["b", "c"],
            "samples": ["d,e", "f,g"],
            "unit": ["dB"],
            "form": ["junit"],
            "needs_more_runs_fails": ["true"],
        }
    ]
    assert result.stdout == "body\n"


@pytest.mark.parametrize(
    ("outcome", "status"), [("holds", 0), ("falls short", 1), ("needs more runs", 2), ("", 3)]
)
def test_the_status_is_that_of_the_header_in_every_form(answered, outcome, status):
    for form in ("text", "json", "junit", "markdown", "html", "pdf"):
        assert answered("--form", form, outcome=outcome)[0].exit_code == status


@pytest.mark.parametrize("code", [422, 429, 500, 503])
def test_a_problem_is_status_3(answered, code):
    problem = {"title": "No", "detail": "Mend.", "status": code}
    result, _ = answered(
        body=json.dumps(problem).encode(), status=code, type="application/problem+json", outcome=""
    )
    assert (result.exit_code, result.stdout) == (3, "")


def test_what_is_made_can_be_left_in_a_file(answered, tmp_path):
    result, _ = answered("--form", "junit", "--output", str(tmp_path / "check.xml"))
    assert (tmp_path / "check.xml").read_bytes() == b"body"
    assert (result.exit_code, result.stdout) == (0, "")
    assert answered("--output", str(tmp_path / "no" / "check.xml"))[0].exit_code == 3


def test_a_time_out_is_status_3(monkeypatch):
    monkeypatch.setattr(connection, "ANSWER_SECONDS", 0.3)
    with silent() as url:
        result = CliRunner().invoke(
            check, [str(TABLE), "--server", url, "--baseline", "a", "--candidate", "b"]
        )
    assert (result.exit_code, result.stdout) == (3, "")
    assert "timed out" in result.stderr
