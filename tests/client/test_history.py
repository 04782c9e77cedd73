"""`aerial-assay history`: kept trials followed from the terminal, exit statuses, what is sent."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner
from flask import Flask, Response, request

from service.app import create_app
from service.client.history import history
from service.client.kept_commands import send, trial
from service.settings import Settings

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
NAMES = ["--element", "roof-whip", "--reference", "indoor-spare"]


@pytest.fixture(scope="module")
def run(tmp_path_factory):
    """Runs a command by itself, against one database."""
    folder = tmp_path_factory.mktemp("history")
    settings = Settings(database=f"sqlite:///{folder / 'kept.sqlite3'}")
    apps = []

    def made():
        apps.append(create_app(settings))
        return apps[-1]

    yield lambda command, *arguments: CliRunner().invoke(command, [str(one) for one in arguments], obj=made)
    for app in apps:
        app.close()
        app.database.close()


@pytest.fixture(scope="module")
def kept(run):
    """The ids of the example's four trials, kept and fed as a user would."""
    ids = []
    for place in range(1, 5):
        ids.append(run(trial, "new", EXAMPLES / "design-history-trial.json").stdout.strip())
        assert run(send, ids[-1], EXAMPLES / f"design-history-{place}.csv").exit_code == 0
    return ids


def test_the_example_creeps_with_status_1(run, kept):
    done = run(history, *kept, *NAMES)
    assert (done.exit_code, done.stderr) == (1, "")
    assert done.stdout.startswith("Outcome: creeps\nWhip on the roof creeps down against Spare kept indoors")


def test_a_wide_margin_makes_it_no_creep_with_status_0(run, kept):
    assert run(history, *kept, *NAMES, "--margin", "3").exit_code == 0


def test_three_trials_that_are_surer_of_nothing_are_status_2(run, kept):
    assert run(history, *kept[:3], *NAMES, "--confidence", "0.99").exit_code == 2


def test_a_report_is_left_in_a_file(run, kept, tmp_path):
    done = run(history, *kept, *NAMES, "--form", "html", "--output", tmp_path / "creep.html")
    assert (done.exit_code, done.stdout) == (1, "")
    assert (tmp_path / "creep.html").read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["a", "b", *NAMES], 'TRIAL: given "a list": Name 3 to 60 kept trials'),
        (["a", "b", "c", *NAMES, "--margin", "-1"], "--margin: given -1.0: Give a number above 0"),
        (["a", "b", "c", *NAMES], "There is no trial 'a'"),
        (["a", "b", "c", *NAMES, "--form", "junit"], "There is no form 'junit'"),
        (["a", "b", "c", *NAMES, "--server", "http://127.0.0.1:9"], "No service answers"),
    ],
)
def test_bad_input_and_no_service_leave_nothing_on_standard_output(run, arguments, said):
    done = run(history, *arguments)
    assert (done.exit_code, done.stdout) == (3, "")
    assert said in done.stderr


@pytest.mark.parametrize(
    ("outcome", "status"),
    [("no creep beyond the margin", 0), ("creeps", 1), ("needs more trials", 2), ("", 3)],
)
def test_the_status_is_that_of_the_header_and_what_was_given_is_sent(outcome, status):
    asked = []

    def made():
        app = Flask(__name__)

        @app.post("/v1/design-histories")
        def answer():
            asked.append((request.args.to_dict(), json.loads(request.data)))
            headers = {"X-Outcome": outcome} if outcome else {}
            return Response(b"body", content_type="application/pdf", headers=headers)

        return app

    given = [
        "a",
        "b",
        "c",
        *NAMES,
        "--margin",
        "0.4",
        "--form",
        "pdf",
        "--paper",
        "letter",
        "--locale",
        "en-DE",
    ]
    done = CliRunner().invoke(history, given, obj=made)
    assert done.exit_code == status
    question = {"element": "roof-whip", "reference": "indoor-spare", "margin": 0.4, "trials": ["a", "b", "c"]}
    assert asked == [({"form": "pdf", "paper": "letter", "locale": "en-DE"}, question)]
