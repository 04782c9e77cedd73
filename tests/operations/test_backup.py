"""`backup` and `restore`: whole, consistent under writers, checked, and never over something unasked."""

import io
import json
import sqlite3
import stat
import zipfile

import pytest

from service.operations.backup import backup, restore
from service.storage import Database, snapshot
from service.storage.dump import dump
from service.storage.tables import TOKENS
from service.storage.tokens import Tokens
from tests.operations.kept_rows import keep, rows_of, run


@pytest.fixture
def kept(tmp_path):
    database = Database(f"sqlite:///{tmp_path}/kept.sqlite3")
    keep(database, trials=60)
    Tokens(database).add("shed", owner="o", may="write", days=9)
    yield database
    database.close()


@pytest.fixture
def made(tmp_path, kept):  # noqa: ARG001 (it is what is backed up)
    result = run(backup, tmp_path / "kept.sqlite3", tmp_path / "b.zip")
    assert result.exit_code == 0, result.output
    assert "60 trials" in result.output
    assert "60 deliveries" in result.output
    return tmp_path / "b.zip"


def test_what_is_restored_is_what_was_kept(tmp_path, kept, made):
    result = run(restore, tmp_path / "new" / "again.sqlite3", made)
    assert result.exit_code == 0, result.output
    assert "60 batches" in result.output
    again = Database(f"sqlite:///{tmp_path}/new/again.sqlite3")
    assert rows_of(again) == rows_of(kept)
    again.close()


def test_only_its_maker_can_read_it_and_nothing_else_is_left(tmp_path, made):
    assert stat.S_IMODE(made.stat().st_mode) == 0o600
    left = {path.name for path in tmp_path.iterdir() if not path.name.startswith("kept.sqlite3")}
    assert left == {"b.zip"}


def test_a_file_that_is_there_is_replaced_only_when_told(tmp_path, made):
    before = made.read_bytes()
    refused = run(backup, tmp_path / "kept.sqlite3", made)
    assert refused.exit_code != 0
    assert "is there already" in refused.output
    assert made.read_bytes() == before
    assert run(backup, tmp_path / "kept.sqlite3", made, "--overwrite").exit_code == 0
    assert made.read_bytes() != before


def test_a_database_that_holds_something_is_replaced_only_when_told(tmp_path, kept, made):
    other = Database(f"sqlite:///{tmp_path}/other.sqlite3")
    keep(other)
    before = rows_of(other)
    refused = run(restore, tmp_path / "other.sqlite3", made)
    assert refused.exit_code != 0
    assert "not empty" in refused.output
    assert rows_of(other) == before
    assert run(restore, tmp_path / "other.sqlite3", made, "--overwrite").exit_code == 0
    assert rows_of(other) == rows_of(kept)
    other.close()


def test_a_database_that_is_not_there_is_not_made(tmp_path):
    result = run(backup, tmp_path / "none.sqlite3", tmp_path / "b.zip")
    assert result.exit_code != 0
    assert "There is no database yet" in result.output
    assert list(tmp_path.iterdir()) == []


def test_a_damaged_database_is_not_backed_up(tmp_path, kept):
    kept.close()
    file = tmp_path / "kept.sqlite3"
    with sqlite3.connect(file) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        ((root,),) = connection.execute(
            "SELECT rootpage FROM sqlite_master WHERE name = 'trials_by_owner'"
        ).fetchall()
        ((size,),) = connection.execute("PRAGMA page_size").fetchall()
    connection.close()
    with file.open("r+b") as raw:
        raw.seek((root - 1) * size)
        raw.write(b"\xee" * size)
    result = run(backup, file, tmp_path / "b.zip")
    assert result.exit_code != 0
    assert "damaged" in result.output
    assert not (tmp_path / "b.zip").exists()


def altered(file, **members: bytes | None) -> bytes:
    """The backup with members replaced, or left out where None."""
    out = io.BytesIO()
    with zipfile.ZipFile(file) as archive, zipfile.ZipFile(out, "w") as changed:
        for name in archive.namelist():
            content = members.get(name.rsplit("/", 1)[-1].split(".")[0], archive.read(name))
            if content is not None:
                changed.writestr(name, content)
    return out.getvalue()


def manifest(file, **changes) -> bytes:
    with zipfile.ZipFile(file) as archive:
        return json.dumps(json.loads(archive.read("manifest.json")) | changes).encode()


@pytest.mark.parametrize(
    ("damage", "told"),
    [
        (lambda file: file.read_bytes()[:-40], "no whole backup"),
        (lambda _: b"PK nothing", "no whole backup"),
        (lambda file: altered(file, tokens=b""), "its table tokens is not what was written"),
        (lambda file: altered(file, trials=None), "other parts"),
        (lambda file: altered(file, manifest=b"[]"), "no whole backup"),
        (lambda file: altered(file, manifest=manifest(file, revision="9999")), "of the tables 9999"),
        (lambda file: altered(file, manifest=b" " * 2**20 + b"{}"), "manifest is too long"),
    ],
    ids=[
        "cut short",
        "no zip",
        "another table",
        "a table missing",
        "no manifest",
        "another revision",
        "long",
    ],
)
def test_a_damaged_backup_is_refused_and_changes_nothing(tmp_path, made, damage, told):
    bad = tmp_path / "bad.zip"
    bad.write_bytes(damage(made))
    other = Database(f"sqlite:///{tmp_path}/other.sqlite3")
    keep(other)
    before = rows_of(other)
    result = run(restore, tmp_path / "other.sqlite3", bad, "--overwrite")
    assert result.exit_code != 0
    assert told in result.output
    assert rows_of(other) == before
    other.close()


def test_a_backup_holds_no_token(tmp_path):
    database = Database(f"sqlite:///{tmp_path}/kept.sqlite3")
    secret = Tokens(database).add("shed", owner="o", may="write", days=9)
    file = io.BytesIO()
    with snapshot.snapshot(database, folder=tmp_path) as connection:
        assert dump(connection, file)[TOKENS.name] == 1
    database.close()
    with zipfile.ZipFile(file) as archive:
        assert secret.removeprefix("aa_") not in archive.read("tables/tokens.ndjson").decode()
