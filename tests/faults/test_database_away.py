"""A database that is away, locked or crashed is told as that; when it is back, it goes on by itself."""

import shutil
import sqlite3
from contextlib import contextmanager
from pathlib import Path

import pytest

from service.errors import StorageUnavailable
from tests.api.kept_requests import Kept, problem, rows


def told(answer, wait: str) -> str:
    """What a 503 says, which must not name the file or the server."""
    problem(answer, 503)
    assert answer.headers["Retry-After"] == wait
    assert "sqlite" not in answer.json["detail"].lower()
    return str(answer.json["detail"])


@pytest.fixture
def sqlite_trial(tmp_path, serving, monkeypatch):
    monkeypatch.setattr("service.storage.engines.BUSY_SECONDS", 0.2)
    return Kept.new(serving(f"sqlite:///{tmp_path / 'folder' / 'kept.sqlite3'}"))


def test_a_folder_that_was_moved_away_and_back(sqlite_trial, tmp_path):
    trial = sqlite_trial
    trial.sent(rows("a"), key="a")
    (tmp_path / "folder").rename(tmp_path / "away")
    for _ in range(2):
        assert "Try again" in told(trial.send(rows("b"), key="b"), "5")
        assert told(trial.get(), "5")
    assert problem(trial.client.get("/readyz"), 503)
    assert not (tmp_path / "folder").exists()
    (tmp_path / "away").rename(tmp_path / "folder")
    assert trial.client.get("/readyz").status_code == 200
    assert trial.sent(rows("b"), key="b")["batch"] == 2
    assert trial.send(rows("a"), key="a").json["batch"] == 1


def test_a_file_that_was_moved_away_is_not_written_to_and_no_other_made(sqlite_trial, tmp_path):
    """Else what is acknowledged meanwhile would be kept in a file that nobody looks at."""
    trial, file = sqlite_trial, tmp_path / "folder" / "kept.sqlite3"
    trial.sent(rows("a"))
    file.rename(tmp_path / "old")
    told(trial.send(rows("b")), "5")
    assert not file.exists()
    (tmp_path / "old").rename(file)
    assert trial.sent(rows("b"))["batch"] == 2


def test_a_file_in_whose_place_a_copy_was_put_is_left_for_the_copy(sqlite_trial, tmp_path):
    trial, file = sqlite_trial, tmp_path / "folder" / "kept.sqlite3"
    trial.sent(rows("a"))
    with sqlite3.connect(file) as source, sqlite3.connect(tmp_path / "copy") as copy:
        source.backup(copy)
    source.close()
    copy.close()
    trial.sent(rows("b"))
    for beside in file.parent.iterdir():
        beside.unlink()
    shutil.move(tmp_path / "copy", file)
    assert trial.sent(rows("c"))["batch"] == 2
    with sqlite3.connect(file) as looked_at:
        assert looked_at.execute("SELECT count(*) FROM batches").fetchone() == (2,)
    looked_at.close()


def test_a_locked_file(sqlite_trial, tmp_path):
    trial = sqlite_trial
    other = sqlite3.connect(tmp_path / "folder" / "kept.sqlite3", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    assert "locked" in told(trial.send(rows("a"), key="a"), "1")
    assert trial.get().status_code == 200
    other.execute("ROLLBACK")
    other.close()
    assert trial.sent(rows("a"), key="a")["batch"] == 1


def test_a_file_that_is_locked_while_a_batch_is_read(sqlite_trial, tmp_path, monkeypatch):
    """The claim on the key is written, what would give it free is not: it must not stand in the way later."""
    trial = sqlite_trial
    other = sqlite3.connect(
        tmp_path / "folder" / "kept.sqlite3", isolation_level=None, check_same_thread=False
    )
    between(monkeypatch, lambda: other.execute("BEGIN IMMEDIATE"))
    assert "locked" in told(trial.send(rows("a"), key="a"), "1")
    monkeypatch.undo()
    other.execute("ROLLBACK")
    other.close()
    assert trial.sent(rows("a"), key="a")["batch"] == 1


def test_a_claim_that_was_written_though_its_commit_seemed_to_fail(sqlite_trial, monkeypatch):
    """As when a database crashes between writing a commit and saying so."""
    trial, database = sqlite_trial, sqlite_trial.client.application.database
    begin = database.begin

    @contextmanager
    def unconfirmed():
        with begin() as connection:
            yield connection
        monkeypatch.undo()
        raise StorageUnavailable("Nobody knows whether it was written. Try again.")

    monkeypatch.setattr(database, "begin", unconfirmed)
    problem(trial.send(rows("a"), key="a"), 503)
    assert trial.sent(rows("a"), key="a")["batch"] == 1


def between(monkeypatch, happens) -> None:
    """Let something happen after a batch is read and before it is kept."""
    from service.jobs import kept_readings

    read = kept_readings.read_content

    def read_content(*arguments):
        content = read(*arguments)
        happens()
        return content

    monkeypatch.setattr(kept_readings, "read_content", read_content)


def test_a_server_that_crashes_in_the_middle_of_a_request(postgres, serving, monkeypatch):
    trial = Kept.new(serving(postgres.new_database("crashed_midway")))
    trial.sent(rows("a"), key="a")
    between(monkeypatch, postgres.crash)
    assert "Try again" in told(trial.send(rows("b"), key="b"), "5")
    monkeypatch.undo()
    told(trial.send(rows("b"), key="b"), "5")
    told(trial.get(), "5")
    assert problem(trial.client.get("/readyz"), 503)
    postgres.start()
    assert trial.sent(rows("b"), key="b")["batch"] == 2
    assert trial.get().json["kept"]["version"] == 3
    assert trial.client.get("/readyz").status_code == 200


def test_a_server_that_was_restarted_unnoticed(postgres, serving):
    """The connections in the pool lead nowhere; nobody asked while the server was away."""
    trial = Kept.new(serving(postgres.new_database("restarted")))
    postgres.crash()
    postgres.start()
    assert trial.sent(rows("a"), key="a")["batch"] == 1


def test_a_folder_that_cannot_be_made(tmp_path, serving):
    Path(tmp_path / "blocked").touch()
    client = serving(f"sqlite:///{tmp_path / 'blocked' / 'kept.sqlite3'}")
    assert "folder" in problem(client.post("/v1/trials", json={"meter": {"unit": "dB"}}), 503)["detail"]
    (tmp_path / "blocked").unlink()
    Kept.new(client).sent()
