"""A server that is killed, and a database that crashes: the same as by hand (`kill_server`), fewer times."""

from copy import deepcopy

import pytest

from tests.faults.kill_server import Killing
from tests.faults.servers import Commanded
from tests.faults.stored import Store
from tests.faults.writers import Ledger, Sent
from tests.postgres import PostgresServer

KILLS = 14
CRASHES = 3


def test_kills_lose_nothing_halve_nothing_and_double_nothing(database_url, forked, capsys):
    tally = Killing(database_url, forked).run(KILLS)
    with capsys.disabled():
        print("", *tally.lines(), sep="\n")
    assert tally.wrong() == []
    assert tally.kills >= KILLS
    assert tally.with_requests_under_way >= KILLS // 2
    assert len(tally.ledger.acknowledged) == len(tally.ledger.sent) == tally.at_the_end.looked_at > KILLS


def test_the_command_leaves_no_worker_behind_when_it_is_killed(tmp_path):
    starter = Commanded(tmp_path / "log")
    try:
        tally = Killing(f"sqlite:///{tmp_path / 'kept.sqlite3'}", starter).run(1)
    finally:
        starter.close()
    assert tally.wrong() == []
    assert len(tally.ledger.acknowledged) == tally.at_the_end.looked_at > 0


def test_a_crash_of_the_database_is_no_more_than_a_pause(forked):
    postgres = PostgresServer.make()
    try:
        tally = Killing(postgres.new_database("crashed"), forked, crash=postgres).run(CRASHES)
    finally:
        postgres.close()
    assert tally.wrong() == []
    assert set(tally.ledger.put_off) <= {409, 503}
    assert tally.ledger.put_off[503] > 0
    assert len(tally.ledger.acknowledged) == tally.at_the_end.looked_at > CRASHES


@pytest.fixture(scope="module")
def written(tmp_path_factory, forked):
    """A database with its ledger, all well."""
    url = f"sqlite:///{tmp_path_factory.mktemp('written') / 'kept.sqlite3'}"
    killing = Killing(url, forked)
    killing.run(1)
    return url, killing.tally.ledger


def spoilt(written, statement: str) -> list[str]:
    """What the comparison says after the statement, which is undone again."""
    url, ledger = written
    store = Store(url)
    paths = {sent.trial for sent in ledger.sent.values()}
    assert store.compare(ledger, paths).wrong() == []
    with store._engine.connect() as connection:
        connection.exec_driver_sql(statement)
        store._engine = OneConnection(connection)
        found = store.compare(ledger, paths)
    return [name for name, places in vars(found).items() if isinstance(places, list) and places]


class OneConnection:
    """An engine with one connection, so that what is not committed is seen."""

    def __init__(self, connection):
        self._connection = connection

    def connect(self):
        return self

    def __enter__(self):
        return self._connection

    def __exit__(self, *_):
        return None


@pytest.mark.parametrize(
    ("statement", "told"),
    [
        ("DELETE FROM batches WHERE rowid = 1", {"lost", "versions"}),
        ("UPDATE batches SET rows = rows + 1 WHERE rowid = 1", {"half_stored", "lost"}),
        ("UPDATE batches SET columns_sha256 = 'x' WHERE rowid = 1", {"half_stored"}),
        ("UPDATE batches SET body_sha256 = 'x' WHERE rowid = 1", {"lost", "never_sent"}),
        (
            "INSERT INTO batches SELECT 'x', trial_id, 99, received_at, kind, reason, withdraws, media_type, "
            "body, body_sha256, columns, columns_sha256, names, holds, rows, read_as FROM batches "
            "WHERE rowid = 1",
            {"stored_twice", "versions"},
        ),
        ("UPDATE trials SET version = version + 1", {"versions"}),
    ],
)
def test_the_comparison_sees_what_it_is_for(written, statement, told):
    assert set(spoilt(written, statement)) == told


def test_two_answers_to_one_key_are_seen():
    ledger, sent = Ledger(), Sent("/v1/trials/x", "k", b"element,round,channel,value\na,1,c,1.0\n")
    ledger.told(sent, b'{"batch":1,"rows":1}')
    same = deepcopy(ledger.acknowledged)
    ledger.told(sent, b'{"batch":1,"rows":1}')
    assert (ledger.acknowledged, ledger.unforeseen) == (same, [])
    ledger.told(sent, b'{"batch":2,"rows":1}')
    assert len(ledger.unforeseen) == 1
