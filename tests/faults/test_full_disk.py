"""A disk that is full is told as that; nothing half stored; once there is room it goes on by itself."""

import os
import shutil
from contextlib import suppress

from service.storage import Database
from tests.api.kept_requests import HEADING, Kept, problem
from tests.postgres import OWNER

PERCENT = {"title": "Invented", "meter": {"unit": "percent"}}


def many_rows(start: int, count: int = 3000) -> bytes:
    """Readings that do not pack well."""
    values = [(n * 7919 + start * 104729) % 10007 / 101 for n in range(count)]
    lines = [f"e{start},{1 + n // 600},c{n % 600},{value:.6f}" for n, value in enumerate(values)]
    return "\n".join([HEADING, *lines, ""]).encode()


def full(trial) -> int:
    """Send batches until there is no room; how many were kept."""
    for number in range(60):
        answer = trial.send(many_rows(number), key=f"batch {number}")
        if answer.status_code != 201:
            told = problem(answer, 507)
            assert "disk" in told["detail"]
            assert "Make room" in told["detail"]
            return number
    raise AssertionError("the disk is not small")


def goes_on(trial, kept: int, make_room) -> None:
    """What was kept is there, reading goes on, and with room the batch that failed is taken under its key."""
    assert trial.get().json["kept"]["version"] == kept + 1
    assert trial.send(many_rows(kept), key=f"batch {kept}").status_code == 507
    make_room()
    assert trial.sent(many_rows(kept), key=f"batch {kept}")["batch"] == kept + 1
    assert trial.send(many_rows(kept), key=f"batch {kept}").json["batch"] == kept + 1
    batches = trial.get().json["kept"]["history"]["batches"]
    assert [batch["rows"] for batch in batches] == [3000] * (kept + 1)


def fill(folder) -> None:
    """Leave no byte on the disk."""
    with suppress(OSError), (folder / "filler").open("ab", buffering=0) as filler:
        while filler.write(b"x" * 4096):
            pass


def test_a_full_disk_under_sqlite(small_disk, serving):
    trial = Kept.new(serving(f"sqlite:///{small_disk / 'kept.sqlite3'}"), PERCENT)
    trial.sent(many_rows(0), key="batch 0")
    fill(small_disk)
    kept = full(trial)
    assert kept >= 1
    goes_on(trial, kept, (small_disk / "filler").unlink)


def test_a_disk_that_is_full_when_the_database_is_made(small_disk, serving):
    fill(small_disk)
    client = serving(f"sqlite:///{small_disk / 'kept.sqlite3'}")
    assert problem(client.post("/v1/trials", json=PERCENT), 507)
    (small_disk / "filler").unlink()
    Kept.new(client, PERCENT).sent()


def limit_pages(database: Database, more: int | None) -> None:
    """Let the file grow by so many pages, or without bound."""
    with database.begin() as connection:
        pages = connection.exec_driver_sql("PRAGMA page_count").scalar()
        connection.exec_driver_sql(f"PRAGMA max_page_count={2**31 if more is None else pages + more}")


def test_a_file_that_may_not_grow(tmp_path, serving):
    client = serving(f"sqlite:///{tmp_path / 'kept.sqlite3'}")
    trial = Kept.new(client, PERCENT)
    trial.sent(many_rows(0), key="batch 0")
    database = client.application.database
    limit_pages(database, 20)
    goes_on(trial, full(trial), lambda: limit_pages(database, None))


def test_a_full_disk_under_postgresql(small_disk, serving, postgres):
    """The tables stand on the small disk; the log of PostgreSQL does not."""
    if os.geteuid() == 0:
        shutil.chown(small_disk, OWNER, OWNER)
    url = postgres.new_database("on_a_small_disk")
    postgres.do(f"CREATE TABLESPACE small LOCATION '{small_disk}'")
    try:
        client = serving(url + "%20-cdefault_tablespace%3Dsmall")
        trial = Kept.new(client, PERCENT)
        trial.sent(many_rows(0), key="batch 0")
        filler = small_disk / "filler"
        fill(small_disk)
        goes_on(trial, full(trial), filler.unlink)
    finally:
        client.application.database.close()
        postgres.do("DROP SCHEMA on_a_small_disk CASCADE")
        postgres.do("DROP TABLESPACE small")
