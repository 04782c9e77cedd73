"""`aerial-assay trial` and `send`, by themselves: through the application in this process."""

import json
from functools import partial

import httpx
import pytest
from click.testing import CliRunner

from service.app import create_app
from service.client import connection, patience
from service.client.kept_commands import send, trial
from service.client.trouble import Trouble
from service.settings import Settings

TABLE = "element,round,channel,value\na,1,Quay,5\nb,1,Quay,6\n"


@pytest.fixture
def settings(tmp_path):
    return Settings(database=f"sqlite:///{tmp_path / 'kept.sqlite3'}")


@pytest.fixture
def run(settings, tmp_path, monkeypatch):
    """Runs a command with a few arguments; its result, which no exception but Trouble ended."""
    apps = []
    monkeypatch.chdir(tmp_path)

    def made():
        apps.append(create_app(settings))
        return apps[-1]

    def run_(command, *arguments, status=0, answer=None):
        result = CliRunner().invoke(command, arguments, obj=made, input=answer)
        assert result.exit_code == status, (result.output, result.exception)
        return result

    yield run_
    for app in apps:
        app.close()
        app.database.close()


@pytest.fixture
def table(tmp_path):
    (tmp_path / "readings.csv").write_text(TABLE, encoding="utf-8")
    return "readings.csv"


@pytest.fixture
def kept(run, tmp_path):
    """The id of a kept trial."""
    document = {"title": "Quay trial", "meter": {"unit": "bars", "highest": 10}}
    (tmp_path / "trial.json").write_text(json.dumps(document), encoding="utf-8")
    return run(trial, "new", "trial.json").stdout.strip()


def test_a_trial_is_kept_listed_shown_and_removed(run, kept, table):
    assert len(kept) == 32
    listed = run(trial, "list").stdout
    assert listed.startswith(kept)
    assert "0 batches  Quay trial" in listed
    run(send, kept, table)
    assert "1 batch  Quay trial" in run(trial, "list").stdout
    shown = json.loads(run(trial, "show", kept).stdout)
    assert (shown["id"], shown["kept"]["held"]["elements"]) == (kept, ["a", "b"])
    assert run(trial, "remove", kept, status=1, answer="n\n").stdout == ""
    assert run(trial, "remove", kept, "--yes").stdout == "Removed: Quay trial.\n"
    assert run(trial, "list").stdout == ""


def test_what_was_sent_is_told_and_sending_again_keeps_nothing_twice(run, kept, table):
    first = run(send, kept, table).stdout
    assert first == "Kept as batch 1: 2 readings of 2 elements on 1 channel.\nNew in this trial: a, b.\n"
    assert run(send, kept, table).stdout == first
    corrected = run(send, kept, table, "--corrects", "typo").stdout
    assert "2 of them stand in place of earlier ones" in corrected
    assert json.loads(run(trial, "show", kept).stdout)["kept"]["version"] == 3


def test_after_a_batch_was_taken_back_the_same_file_is_sent_anew(run, kept, table, settings):
    run(send, kept, table)
    app = create_app(settings)
    taken_back = app.test_client().post(f"/v1/trials/{kept}/readings?withdraws=1&reason=x")
    assert taken_back.status_code == 201
    app.close()
    app.database.close()
    assert run(send, kept, table).stdout.startswith("Kept as batch 3")


def test_faults_are_told_line_by_line_with_the_remedy(run, kept, tmp_path):
    (tmp_path / "bad.csv").write_text(TABLE + "c,1,Quay,11\n", encoding="utf-8")
    said = run(send, kept, "bad.csv", status=3).stderr
    assert "bad.csv line 4, column value: given 11" in said


@pytest.mark.parametrize("name", ["no/such", "", "../x", "é"])
def test_what_is_no_id_is_refused_before_anything_is_asked(name):
    with pytest.raises(Trouble, match="trial list"):
        trial.main(["show", name], obj=partial(pytest.fail, "asked"), standalone_mode=False)


def test_a_trial_that_is_not_there_is_told(run, table):
    assert "There is no trial" in run(send, "0" * 32, table, status=3).stderr
    assert "cannot be read" in run(trial, "new", "missing.json", status=3).stderr


class Unsteady(httpx.BaseTransport):
    """Answers by the list: an error is raised, a status answered; it counts the requests."""

    def __init__(self, *answers):
        self.answers = list(answers)
        self.asked = 0

    def handle_request(self, _request):
        self.asked += 1
        answer = self.answers.pop(0)
        if isinstance(answer, int):
            headers = {"Content-Type": "application/problem+json", "Retry-After": "7"}
            body = {"title": "Wait", "detail": "A moment."} if answer != 200 else {}
            return httpx.Response(answer, json=body, headers=headers)
        raise answer


@pytest.mark.parametrize(
    ("answers", "pauses"),
    [
        ([200], []),
        ([503, 200], [7.0]),
        ([409, 429, 200], [7.0, 7.0]),
        ([httpx.ConnectError("away"), 200], [2]),
    ],
)
def test_a_request_is_sent_again_where_that_may_help(monkeypatch, answers, pauses):
    paused = []
    monkeypatch.setattr(patience.time, "sleep", paused.append)
    transport = Unsteady(*answers)
    service = connection.Service(httpx.Client(transport=transport, base_url="http://assay.example"))
    assert service.answer("POST", "/v1/x", tries=4).json() == {}
    assert (transport.asked, paused) == (len(answers), pauses)


@pytest.mark.parametrize("answers", [[422], [503, 503], [httpx.ConnectError("away")] * 2])
def test_it_is_not_sent_again_for_ever(monkeypatch, answers):
    monkeypatch.setattr(patience.time, "sleep", lambda _: None)
    transport = Unsteady(*answers)
    service = connection.Service(httpx.Client(transport=transport, base_url="http://assay.example"))
    with pytest.raises(Trouble):
        service.answer("POST", "/v1/x", tries=2)
    assert transport.asked == len(answers)
