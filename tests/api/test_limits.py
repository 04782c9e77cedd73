"""Every limit, over HTTP: refused with a problem that says the limit and the remedy."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import fields
from functools import partial
from pathlib import Path

import pytest

from service.api.desk import hand_desk
from service.app import create_app
from service.errors import MOST_FAULTS
from service.jobs.running import Load
from service.settings import Limits, Settings
from tests.api.conftest import DOCUMENT
from tests.api.kept_requests import Kept, rows
from tests.intake.made_workbooks import XLSX, workbook
from tests.jobs import work
from tests.waiting import until

WIDE = (Path(__file__).parents[2] / "openapi" / "examples" / "wide.csv").read_bytes()
BOOK = workbook([line.split(",") for line in WIDE.decode().splitlines()])
PATH = "/v1/verdicts?unit=dBuV"


@pytest.fixture
def limited(tmp_path):
    made = []

    def make(**limits: int):
        database = f"sqlite:///{tmp_path}/kept.sqlite3"
        made.append(create_app(Settings(database=database, limits=Limits(**limits))))
        return made[-1].test_client()

    yield make
    for app in made:
        app.close()
        app.database.close()


def details(answer) -> str:
    """All that the problem tells."""
    assert answer.content_type == "application/problem+json", answer.data
    problem = answer.json
    return " ".join([problem["detail"], *(fault["detail"] for fault in problem.get("errors", []))])


AT_HTTP = [
    ("body_bytes", 10, "", (413, "at most 10 bytes", "Send fewer rounds or fewer channels")),
    ("readings", 10, "", (413, "at most 10 are taken at once", "Send fewer rounds or fewer channels")),
    ("elements", 1, "", (422, "2 elements; at most 1", "Split it into smaller trials")),
    ("rounds", 2, "", (422, "6 rounds; at most 2", "Split it into smaller trials")),
    ("channels", 1, "", (422, "4 channels; at most 1", "Split it into smaller trials")),
    ("pairs_times_rounds", 3, "", (422, "6 pairs of elements times rounds; at most 3", "Split it")),
    ("text_characters", 60, "&title=" + "t" * 61, (422, "61 characters long; at most 60", "shorten it")),
]


@pytest.mark.parametrize("case", AT_HTTP, ids=[case[0] for case in AT_HTTP])
def test_a_table_over_a_limit(limited, case):
    name, most, query, (status, limit, remedy) = case
    answer = limited(**{name: most}).post(PATH + query, data=WIDE, content_type="text/csv")
    assert answer.status_code == status
    assert limit in details(answer)
    assert remedy in details(answer)


@pytest.mark.parametrize("name", ["workbook_bytes", "workbook_entries", "workbook_cells"])
def test_a_workbook_over_a_limit(limited, name):
    answer = limited(**{name: 3}).post(PATH, data=BOOK, content_type=XLSX)
    assert answer.status_code in {413, 422}
    assert "at most 3" in details(answer)
    assert "CSV" in details(answer)


def test_a_workbook_within_the_limits(limited):
    assert limited().post(PATH, data=BOOK, content_type=XLSX).status_code == 200


def test_no_more_faults_are_listed_than_a_hundred_but_all_are_counted(limited):
    rows = "".join(f"e,{number},27,much\n" for number in range(1, 151))
    answer = limited().post(
        PATH, data=f"element,round,channel,value\n{rows}".encode(), content_type="text/csv"
    )
    assert (answer.status_code, len(answer.json["errors"]), answer.json["count"]) == (422, MOST_FAULTS, 150)


@pytest.mark.parametrize(("query", "seconds"), [("", 7), ("&form=html", 7 + 11)])
def test_an_analysis_and_its_report_get_the_seconds_that_are_set(limited, given_seconds, query, seconds):
    client = limited(analysis_seconds=7, rendering_seconds=11)
    given = given_seconds(client.application.runner)
    assert client.post(PATH + query, data=WIDE, content_type="text/csv").status_code == 200
    assert given == [seconds]


def test_a_report_on_what_is_kept_gets_the_seconds_of_a_rendering(limited, given_seconds):
    client = limited(rendering_seconds=11)
    trial = Kept.new(client)
    trial.sent(rows(rounds=(1, 2)))
    report = client.post(f"{trial.path}/analyses").json["links"]["report"]
    given = given_seconds(client.application.runner)
    assert client.get(f"{report}?form=markdown").status_code == 200
    assert given == [11]


@pytest.fixture
def given_seconds(monkeypatch):
    """Notes how long each piece of work of a runner may take."""

    def noted(runner) -> list[float]:
        run, given = runner.run, []

        def noting(work, *, seconds):
            given.append(seconds)
            return run(work, seconds=seconds)

        monkeypatch.setattr(runner, "run", noting)
        return given

    return noted


class Waiting:
    """A desk whose every verdict takes until a file is there, in a worker."""

    def __init__(self, runner, file: Path, *, seconds: float):
        self._run = partial(runner.run, partial(work.wait_for, str(file)), seconds=seconds)

    def document(self, _batch):
        self._run()
        return DOCUMENT


@pytest.fixture(scope="module")
def busy_app():
    """An application with one worker, for which one may wait."""
    app = create_app(Settings(workers=1, limits=Limits(waiting=1)))
    yield app
    app.close()


def ask(app):
    return app.test_client().post(PATH, data=WIDE, content_type="text/csv")


def test_an_analysis_that_takes_too_long(busy_app, tmp_path):
    hand_desk(busy_app, Waiting(busy_app.runner, tmp_path / "never", seconds=1))
    answer = ask(busy_app)
    assert answer.status_code == 413
    assert "the 1 seconds that one request may" in details(answer)
    assert "Send fewer" in details(answer)


def test_more_analyses_than_may_wait(busy_app, tmp_path):
    hand_desk(busy_app, Waiting(busy_app.runner, tmp_path / "go", seconds=120))
    with ThreadPoolExecutor(2) as threads:
        both = threads.map(lambda _: ask(busy_app).status_code, range(2))
        until(lambda: busy_app.runner.load() == Load(working=1, waiting=1))
        answer = ask(busy_app)
        (tmp_path / "go").touch()
        assert list(both) == [200, 200]
    assert (answer.status_code, answer.headers["Retry-After"]) == (429, "10")
    assert "1 requests wait, the most that may" in details(answer)


def test_every_limit_is_looked_at_here():
    elsewhere = {"requests_per_minute", "archive_bytes"}  # test_limits_of_access.py, jobs/test_archive.py
    here = {case[0] for case in AT_HTTP} | {"workbook_bytes", "workbook_entries", "workbook_cells"}
    here |= {"analysis_seconds", "rendering_seconds", "waiting"}
    assert here | elsewhere == {item.name for item in fields(Limits)}
