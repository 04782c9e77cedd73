"""`aerial-assay check` on kept trials, here and at a service, and how long it waits for one."""

import json
import threading
import time
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner
from flask import Flask, Response, request

from service.client import patience
from service.client.check import check
from service.client.trouble import Trouble
from tests.api.kept_requests import WITH_REFERENCE, Kept, scattered_rows
from tests.client.services import served, silent
from tests.faults.servers import free_port
from tests.waiting import PATIENCE, until

CHECKS = "/v1/design-checks"


@pytest.fixture(scope="module")
def kept(sqlite_app):
    """An application with two kept trials and a baseline that is kept by name; the ids of the trials."""
    client, ids = sqlite_app.test_client(), {}
    for name, elements in (("then", ["brass-3", "old", "older"]), ("now", ["brass-3", "new", "thin"])):
        trial = Kept.new(client, WITH_REFERENCE)
        trial.sent(scattered_rows(elements, levels={"thin": -1.5}))
        ids[name] = trial.id
    named = {"name": "as sold", "trial": ids["then"], "element": "old"}
    assert client.post("/v1/baselines", json=named).status_code == 201
    return sqlite_app, ids


def run(app, *arguments):
    return CliRunner().invoke(check, list(map(str, arguments)), obj=lambda: app)


OUTCOMES = [
    (["--candidate", "new"], 0, "holds"),
    (["--candidate", "thin"], 1, "falls short"),
    (["--candidate", "new", "--candidate", "thin"], 1, "falls short"),
    (["--candidate", "new", "--margin", "0.001"], 2, "needs more runs"),
]


@pytest.mark.parametrize("case", OUTCOMES)
@pytest.mark.parametrize("by_name", [True, False])
def test_kept_trials_are_checked_here_and_at_a_service(kept, by_name, case):
    (app, ids), (more, status, outcome) = kept, case
    baseline = ["--baseline-name", "as sold"]
    if not by_name:
        baseline = ["--baseline-trial", ids["then"], "--baseline", "old", "--reference", "brass-3"]
    arguments = [*baseline, "--candidate-trial", ids["now"], *more]
    here = run(app, *arguments)
    assert (here.exit_code, here.stderr) == (status, ""), here.output
    assert here.stdout.startswith(f"Outcome: {outcome}\n")
    with served(app) as url:
        there = run(app, *arguments, "--server", url)
    assert (there.exit_code, there.stdout) == (here.exit_code, here.stdout)


@pytest.mark.parametrize(
    ("form", "outcome", "results"),
    [
        ("new", "holds", [None, None]),
        ("thin", "falls short", ["failure", None]),
        ("samples", "needs more runs", ["skipped", None]),
    ],
)
def test_junit_and_status_agree_for_each_outcome(kept, form, outcome, results):
    """One trial holds all: its candidates' trial need not be named twice."""
    app, ids = kept
    names = ["--samples", "new,thin"] if form == "samples" else ["--candidate", form]
    arguments = ["--baseline-trial", ids["now"], "--baseline", "brass-3", *names, "--form", "junit"]
    done = run(app, *arguments)
    root = ElementTree.fromstring(done.stdout)  # noqa: S314 (our own)
    assert done.exit_code == {"holds": 0, "falls short": 1, "needs more runs": 2}[outcome]
    assert [
        next((part.tag for part in case if part.tag in {"failure", "skipped"}), None)
        for case in root.iter("testcase")
    ] == results
    failed = run(app, *arguments, "--needs-more-runs-fails")
    root = ElementTree.fromstring(failed.stdout)  # noqa: S314 (our own)
    assert (failed.exit_code, root.get("failures")) == (done.exit_code, "0" if outcome == "holds" else "1")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--baseline-trial", "THEN", "--candidate", "new"], "--baseline: Give the id of one element"),
        (["--baseline-trial", "THEN", "--baseline", "old"], "--candidate: given 0"),
        (["--baseline-trial", "THEN", "--baseline", "gone", "--candidate", "older"], "--baseline"),
        (["--candidate-trial", "THEN", "--candidate", "old"], "--baseline-name NAME"),
        (["--baseline-name", "as sold", "--candidate", "new"], "--candidate-trial TRIAL"),
        (["--baseline-name", "as sold", "--baseline", "old", "--candidate-trial", "NOW"], "stands for trial"),
        (["--baseline-name", "gone", "--candidate-trial", "NOW", "--candidate", "new"], "no baseline 'gone'"),
        (["--baseline-trial", "0" * 32, "--baseline", "old", "--candidate", "new"], "There is no trial"),
        (["--baseline-trial", "THEN", "--baseline", "old", "--candidate", "older", "--unit", "dB"], "--unit"),
        (
            ["--baseline-trial", "THEN", "--baseline", "old", "--candidate", "older", "--margin", "wide"],
            '--margin: given "wide"',
        ),
        (
            ["--baseline-trial", "THEN", "--baseline", "old", "--candidate", "older", "--margin", "nan"],
            '--margin: given "nan"',
        ),
        (["--baseline-name", "as sold", "--trial", "trial.json"], "Leave one of them out"),
        ([], "Give FILE; or kept trials"),
    ],
)
def test_what_is_asked_badly_is_status_3_with_nothing_on_standard_output(kept, arguments, said):
    app, ids = kept
    trials = {"THEN": ids["then"], "NOW": ids["now"]}
    done = run(app, *(trials.get(argument, argument) for argument in arguments))
    assert (done.exit_code, done.stdout) == (Trouble.exit_code, "")
    assert said in done.stderr


def asked_of(url, *more):
    names = ["--baseline-name", "as sold", "--candidate-trial", "t", "--candidate", "new"]
    return CliRunner().invoke(check, [*names, "--server", url, *more])


def test_it_waits_for_a_service_that_is_not_up_yet(kept, monkeypatch):
    app, ids = kept
    port = free_port()
    answers, tries, again = [], [], patience.Wait.again
    monkeypatch.setattr(patience.Wait, "again", lambda wait, *asks: tries.append(asks) or again(wait, *asks))
    arguments = ["--baseline-name", "as sold", "--candidate-trial", ids["now"], "--candidate", "new"]
    asking = threading.Thread(
        target=lambda: answers.append(
            run(app, *arguments, "--server", f"http://127.0.0.1:{port}", "--wait", 300)
        )
    )
    asking.start()
    until(lambda: len(tries) > 1)
    assert answers == []
    with served(app, port):
        asking.join(timeout=PATIENCE)
    assert [answer.exit_code for answer in answers] == [0], answers


def test_a_service_that_never_comes_is_status_3_when_the_wait_is_over():
    began = time.monotonic()
    done = asked_of(f"http://127.0.0.1:{free_port()}", "--wait", "1")
    assert 1.0 <= time.monotonic() - began < 30.0
    assert (done.exit_code, done.stdout) == (3, "")
    assert "within 1 s: " in done.stderr
    assert "No service answers at http://127.0.0.1:" in done.stderr


def test_a_service_that_never_answers_is_status_3_when_the_wait_is_over():
    with silent() as url:
        began = time.monotonic()
        done = asked_of(url, "--wait", "2")
        assert time.monotonic() - began < 30.0
    assert (done.exit_code, done.stdout) == (3, "")
    assert "within 2 s: timed out" in done.stderr


def busy(*statuses, pause="0"):
    """An application that answers by the list, the last for good, and what it was asked."""
    app, asked = Flask(__name__), []

    @app.post(CHECKS)
    def answer():
        asked.append(request.json)
        status = statuses[min(len(asked), len(statuses)) - 1]
        if status == 200:
            return Response("Outcome: holds\n", content_type="text/plain", headers={"X-Outcome": "holds"})
        problem = {"title": "Busy", "detail": "Come again.", "status": status}
        return Response(
            json.dumps(problem),
            status=status,
            content_type="application/problem+json",
            headers={"Retry-After": pause},
        )

    return app, asked


def test_a_busy_service_is_asked_again_as_it_wishes():
    app, asked = busy(429, 503, 200)
    with served(app) as url:
        done = asked_of(url, "--wait", "20")
    assert (done.exit_code, done.stdout) == (0, "Outcome: holds\n")
    assert asked == [asked[0]] * 3


@pytest.mark.parametrize("more", [[], ["--wait", "2"]])
def test_a_pause_longer_than_the_wait_ends_it_at_once(more):
    app, asked = busy(503, pause="300")
    began = time.monotonic()
    with served(app) as url:
        done = asked_of(url, *more)
    assert time.monotonic() - began < 150.0
    assert (done.exit_code, done.stdout, len(asked)) == (3, "", 1)
    assert "Busy. Come again." in done.stderr
    assert ("It was of no use to ask again within 2 s." in done.stderr) == bool(more)


def test_bad_input_is_not_waited_for():
    app, asked = busy(422)
    with served(app) as url:
        assert asked_of(url, "--wait", "20").exit_code == 3
    assert len(asked) == 1


def test_the_pauses_of_a_wait_grow_and_never_pass_its_end(monkeypatch):
    now, paused = [100.0], []

    def sleep(seconds):
        paused.append(seconds)
        now[0] += seconds

    monkeypatch.setattr(patience.time, "monotonic", lambda: now[0])
    monkeypatch.setattr(patience.time, "sleep", sleep)
    wait = patience.Wait(20)
    assert wait.bounds() == {"timeout": 20.0}
    while wait.again():
        pass
    assert paused == [0.25, 0.5, 1.0, 2.0, 4.0, 5.0, 5.0, 2.25]
    assert wait.bounds() == {"timeout": patience.LEAST_SECONDS}
