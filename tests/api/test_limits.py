"""Every limit, over HTTP: refused with a problem that says the limit and the remedy."""

import io
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import fields, replace
from functools import partial
from pathlib import Path

import openpyxl
import pytest

from service.api.desk import hand_desk
from service.app import create_app
from service.errors import MOST_FAULTS
from service.jobs.pool import Pool
from service.settings import Limits, Settings
from tests.api.conftest import DOCUMENT

WIDE = (Path(__file__).parents[2] / "openapi" / "examples" / "wide.csv").read_bytes()
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
PATH = "/v1/verdicts?unit=dBuV"


@pytest.fixture
def limited(tmp_path):
    def make(**limits: int):
        settings = Settings(references=tmp_path, database=f"sqlite:///{tmp_path}/none.sqlite3")
        return create_app(replace(settings, limits=Limits(**limits))).test_client()

    return make


def details(answer) -> str:
    """All that the problem tells."""
    assert answer.content_type == "application/problem+json", answer.data
    problem = answer.json
    return " ".join([problem["detail"], *(fault["detail"] for fault in problem.get("errors", []))])


def workbook() -> bytes:
    book, out = openpyxl.Workbook(), io.BytesIO()
    for line in WIDE.decode().splitlines():
        book.active.append(line.split(","))
    book.save(out)
    return out.getvalue()


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
    answer = limited(**{name: 3}).post(PATH, data=workbook(), content_type=XLSX)
    assert answer.status_code in {413, 422}
    assert "at most 3" in details(answer)
    assert "CSV" in details(answer)


def test_a_workbook_within_the_limits(limited):
    assert limited().post(PATH, data=workbook(), content_type=XLSX).status_code == 200


def test_no_more_faults_are_listed_than_a_hundred_but_all_are_counted(limited):
    rows = "".join(f"e,{number},27,much\n" for number in range(1, 151))
    answer = limited().post(
        PATH, data=f"element,round,channel,value\n{rows}".encode(), content_type="text/csv"
    )
    assert (answer.status_code, len(answer.json["errors"]), answer.json["count"]) == (422, MOST_FAULTS, 150)


class Sleeping:
    """A desk whose every verdict takes its time in a worker."""

    def __init__(self, pool: Pool, *, takes: float, may_take: float):
        self._run = partial(pool.run, partial(time.sleep, takes), seconds=may_take)

    def document(self, _batch):
        self._run()
        return DOCUMENT


@pytest.fixture
def pool():
    pool = Pool(1, waiting=1)
    pool.start()
    yield pool
    pool.close()


def ask(app):
    return app.test_client().post(PATH, data=WIDE, content_type="text/csv")


def test_an_analysis_that_takes_too_long(pool):
    app = create_app(Settings())
    hand_desk(app, Sleeping(pool, takes=60, may_take=1))
    answer = ask(app)
    assert answer.status_code == 413
    assert "the 1 seconds that one request may" in details(answer)
    assert "Send fewer" in details(answer)


def test_more_analyses_than_may_wait(pool):
    app = create_app(Settings())
    hand_desk(app, Sleeping(pool, takes=2, may_take=60))
    begun = threading.Barrier(3)

    def first_wait(_number: int) -> int:
        begun.wait()
        return ask(app).status_code

    with ThreadPoolExecutor(2) as threads:
        both = threads.map(first_wait, range(2))
        begun.wait()
        time.sleep(0.5)  # both have taken their places long before the two seconds of the first are over
        answer = ask(app)
        assert list(both) == [200, 200]
    assert (answer.status_code, answer.headers["Retry-After"]) == (429, "10")
    assert "1 requests wait, the most that may" in details(answer)


def test_every_limit_is_looked_at_here():
    elsewhere = {"rendering_seconds", "requests_per_minute", "archive_bytes"}
    # test_pool.py, test_limits_of_access.py, test_archive.py
    here = {case[0] for case in AT_HTTP} | {"workbook_bytes", "workbook_entries", "workbook_cells"}
    here |= {"analysis_seconds", "waiting"}
    assert here | elsewhere == {item.name for item in fields(Limits)}
