"""Tables are made when a database is opened: once, by one of several programs, as the code describes them."""

import sqlite3
import subprocess
import sys
import threading
import uuid
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import text

from service.storage import migrating, open_database, trial_rows
from service.storage.migrating import HEAD, MIGRATIONS, NewerTables, revision_of
from service.storage.tables import METADATA

ROOT = Path(__file__).parents[2]
AT_ONE_MOMENT = """
import sys, threading
from concurrent.futures import ThreadPoolExecutor
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from service.storage import open_database
from service.storage.migrating import revision_of
from service.storage.tables import METADATA

together = threading.Barrier(6)

def made(number):
    together.wait()
    database = open_database(f"sqlite:///{sys.argv[1]}/{number}.sqlite3")
    with database.reading() as connection:
        differences = compare_metadata(MigrationContext.configure(connection), METADATA)
        revision = revision_of(connection)
    database.close()
    return differences or revision

with ThreadPoolExecutor(6) as threads:
    print(*threads.map(made, range(6)), sep="\\n")
"""


@pytest.fixture
def empty_url(database_url, request, tmp_path):
    if database_url.startswith("sqlite"):
        return f"sqlite:///{tmp_path / 'empty.sqlite3'}"
    return request.getfixturevalue("postgres").new_database(f"empty_{uuid.uuid4().hex[:12]}")


def test_the_steps_make_the_tables_that_the_code_describes(database):
    with database.reading() as connection:
        assert compare_metadata(MigrationContext.configure(connection), METADATA) == []


def test_the_last_step_is_the_one_that_the_code_works_with():
    configuration = Config()
    configuration.set_main_option("script_location", str(MIGRATIONS))
    assert ScriptDirectory.from_config(configuration).get_heads() == [HEAD]


def test_several_programs_may_open_an_empty_database_at_once(empty_url):
    with ThreadPoolExecutor(6) as threads:
        opened = list(threads.map(open_database, [empty_url] * 6))
    with opened[0].reading() as connection:
        assert revision_of(connection) == HEAD
        assert connection.execute(text("SELECT count(*) FROM alembic_version")).scalar() == 1
    for database in opened:
        database.close()


def test_different_databases_of_one_program_may_be_made_at_one_moment(tmp_path):
    """In a process of its own: where the library's globals are shared, it does not live to tell."""
    made = subprocess.run(
        [sys.executable, "-c", AT_ONE_MOMENT, str(tmp_path)],
        cwd=ROOT,
        text=True,
        capture_output=True,
        timeout=120,
        check=False,
    )
    assert (made.returncode, made.stdout, made.stderr) == (0, f"{HEAD}\n" * 6, "")


def test_who_opens_an_empty_file_waits_for_who_writes_to_it(tmp_path):
    """SQLite refuses the change to the write-ahead log at once while another holds the lock of a writer."""
    file = tmp_path / "empty.sqlite3"
    writer = sqlite3.connect(file, isolation_level=None, check_same_thread=False)
    writer.execute("BEGIN IMMEDIATE")
    other = sqlite3.connect(file, timeout=30)
    with pytest.raises(sqlite3.OperationalError, match="locked"):
        other.execute("PRAGMA journal_mode=WAL")
    other.close()
    done = threading.Timer(0.2, lambda: writer.execute("COMMIT"))
    done.start()
    database = open_database(f"sqlite:///{file}")
    with database.reading() as connection:
        assert revision_of(connection) == HEAD
    database.close()
    done.join()
    writer.close()


def test_tables_of_an_earlier_version_are_brought_up_to_date_and_keep_their_rows(empty_url, monkeypatch):
    with monkeypatch.context() as patch:
        patch.setattr(migrating, "HEAD", "0001")
        earlier = open_database(empty_url)
        with earlier.begin() as connection:
            assert revision_of(connection) == "0001"
            trial = trial_rows.insert_trial(connection, "owner", {"title": "Invented"})
        earlier.close()
    database = open_database(empty_url)
    with database.reading() as connection:
        assert revision_of(connection) == HEAD
        assert trial_rows.find_trial(connection, "owner", trial.id) == trial
        assert compare_metadata(MigrationContext.configure(connection), METADATA) == []
    database.close()


def test_tables_of_a_newer_version_are_left_alone(empty_url):
    database = open_database(empty_url)
    with database.begin() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    database.close()
    with pytest.raises(NewerTables, match="newer version"):
        open_database(empty_url)
