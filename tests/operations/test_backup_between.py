"""A backup of either kind of database goes back into either kind, and PostgreSQL's is of one moment too."""

import json
import threading
import uuid
import zipfile

import pytest

from service.operations.backup import backup, restore
from service.operations.token import token
from service.storage import Database
from service.storage.tokens import Tokens
from tests.operations.kept_rows import keep, rows_of, run


@pytest.fixture(scope="module")
def kept(database_url):
    database = Database(database_url)
    keep(database, trials=60)
    yield database
    database.close()


@pytest.fixture(params=["sqlite", "postgresql"])
def empty_url(request, tmp_path):
    if request.param == "sqlite":
        return f"sqlite:///{tmp_path}/empty.sqlite3"
    return request.getfixturevalue("postgres").new_database(f"empty_{uuid.uuid4().hex[:12]}")


def test_a_token_and_all_rows_go_over(kept, database_url, empty_url, tmp_path):
    name = tmp_path.name.replace("[", "-").replace("]", "-")
    secret = run(token, database_url, "add", name, "--may", "write").output.strip()
    assert Tokens(kept).holder(secret).name == name
    made = run(backup, database_url, tmp_path / "b.zip")
    assert made.exit_code == 0, made.output
    restored = run(restore, empty_url, tmp_path / "b.zip")
    assert restored.exit_code == 0, restored.output
    other = Database(empty_url)
    assert rows_of(other) == rows_of(kept)
    assert Tokens(other).holder(secret).owner == name
    refused = run(restore, empty_url, tmp_path / "b.zip")
    assert refused.exit_code != 0
    assert "not empty" in refused.output
    assert run(restore, empty_url, tmp_path / "b.zip", "--overwrite").exit_code == 0
    other.close()


def test_it_is_of_one_moment_while_others_write(kept, database_url, tmp_path):
    """Each writer keeps a trial and its batch in one transaction: never one without the other."""
    done = threading.Event()

    def write():
        while not done.is_set():
            keep(kept)

    writers = [threading.Thread(target=write) for _ in range(2)]
    for writer in writers:
        writer.start()
    try:
        outputs = [run(backup, database_url, tmp_path / f"{turn}.zip").output for turn in range(4)]
    finally:
        done.set()
        for writer in writers:
            writer.join()
    counts = []
    for turn in range(4):
        with zipfile.ZipFile(tmp_path / f"{turn}.zip") as archive:
            lines = [archive.read(f"tables/{name}.ndjson").splitlines() for name in ("trials", "batches")]
        trials = {json.loads(line)[0] for line in lines[0]}
        assert trials == {json.loads(line)[1] for line in lines[1]}, outputs
        counts.append(len(trials))
    assert counts[0] >= 60
    assert counts == sorted(counts)
    assert counts[-1] > counts[0]  # it was written meanwhile


def test_a_server_that_is_away_is_told(tmp_path):
    url = f"postgresql+psycopg://someone:hush@/none?host={tmp_path}"
    result = run(backup, url, tmp_path / "b.zip")
    assert result.exit_code != 0
    assert "does not answer" in result.output
    assert "hush" not in result.output
