"""A PostgreSQL that refuses in the middle of a transaction: told as that, nothing half stored; it goes on.

The server itself refuses, by triggers that raise the code of a full disk and its like (PostgreSQL's manual,
appendix A: error codes) after some rows are written, or by its settings.
"""

from contextlib import contextmanager

import pytest
from sqlalchemy import select

from service.storage.tables import METADATA
from tests.api.kept_requests import TRIAL, Kept, problem, rows, scattered_rows

SCHEMA = "refusing"
FULL, READ_ONLY = "53100", "25006"
TOLD = {
    FULL: (507, None, "disk of the database is full"),
    READ_ONLY: (503, "5", "only be read"),  # what a stand-by answers after a switch
    "25P03": (503, "5", "does not answer"),  # a transaction that was idle for too long
    "53200": (503, "5", "does not answer"),  # out of memory
    "53400": (503, "5", "does not answer"),  # over a limit that was configured
    "57014": (503, "5", "does not answer"),  # statement_timeout
    "57P01": (503, "5", "does not answer"),  # the administrator stops it
    "58030": (503, "5", "does not answer"),  # input or output error
    "40001": (503, "1", "locked"),
    "55P03": (503, "1", "locked"),
}
"""The answer to each code: status, Retry-After and what the detail says."""
TRIGGERS = {
    "at the row": ("TRIGGER", ""),
    "at the commit": ("CONSTRAINT TRIGGER", "DEFERRABLE INITIALLY DEFERRED"),
}
ALL = tuple(table.name for table in METADATA.sorted_tables if table.name not in {"tokens", "deliveries"})


@pytest.fixture(scope="module")
def url(postgres):
    return postgres.new_database(SCHEMA)


@pytest.fixture
def trial(url, serving):
    trial = Kept.new(serving(url), TRIAL)
    trial.sent(scattered_rows("ab"))
    return trial


@pytest.fixture
def refused(postgres):
    """While it is entered, a change to the tables fails with the code, after the row is written."""

    @contextmanager
    def refuse(code: str, *tables: str, when: str = "at the row"):
        made, deferred = TRIGGERS[when]
        body = f"BEGIN RAISE EXCEPTION 'refused' USING ERRCODE = '{code}'; END"
        in_schema(postgres, f"CREATE FUNCTION refuse() RETURNS trigger LANGUAGE plpgsql AS $${body}$$")
        for table in tables:
            in_schema(
                postgres,
                f"CREATE {made} refuse AFTER INSERT OR UPDATE OR DELETE ON {table} {deferred} "
                "FOR EACH ROW EXECUTE FUNCTION refuse()",
            )
        try:
            yield
        finally:
            in_schema(postgres, "DROP FUNCTION refuse() CASCADE")

    return refuse


def in_schema(postgres, statement: str) -> None:
    postgres.do(f"SET search_path = {SCHEMA}; {statement}")


def stored(trial) -> dict[str, list[tuple]]:
    """Every row of every table."""
    with trial.client.application.database.reading() as connection:
        return {
            table.name: sorted(map(tuple, connection.execute(select(table))), key=repr)
            for table in METADATA.sorted_tables
        }


def told(answer, code: str) -> None:
    status, wait, words = TOLD[code]
    assert words in problem(answer, status)["detail"]
    assert answer.headers.get("Retry-After") == wait
    assert "refused" not in answer.get_data(as_text=True)


@pytest.mark.parametrize("code", TOLD)
def test_each_code_in_the_middle_of_a_batch(trial, refused, code):
    """The trigger comes after the batch is written and before the version and the answer are."""
    before = stored(trial)
    with refused(code, "batches"):
        told(trial.send(rows("c"), key=trial.id), code)
        assert stored(trial) == before
        assert trial.get().json["kept"]["version"] == 2
    assert trial.sent(rows("c"), key=trial.id)["batch"] == 2
    assert trial.send(rows("c"), key=trial.id).json["batch"] == 2
    assert trial.get().json["kept"]["version"] == 3


WRITES = {
    "a trial": lambda trial: trial.client.post("/v1/trials", json=TRIAL),
    "a change": lambda trial: trial.patch({"title": "Another"}),
    "a batch": lambda trial: trial.send(rows("c")),
    "a batch under a key": lambda trial: trial.send(rows("c"), key=trial.id),
    "a withdrawal": lambda trial: trial.send(b"", query="?withdraws=1&reason=mast+turned"),
    "an analysis": lambda trial: trial.client.post(f"{trial.path}/analyses"),
    "an analysis for later": lambda trial: trial.client.post(
        f"{trial.path}/analyses", headers={"Prefer": "respond-async"}
    ),
    "a baseline": lambda trial: trial.client.post(
        "/v1/baselines", json={"name": f"of {trial.id}", "trial": trial.id, "element": "a"}
    ),
    "the end of a trial": lambda trial: trial.client.delete(trial.path, headers={"If-Match": "*"}),
}


@pytest.mark.parametrize("when", ["at the row", "at the commit"])
@pytest.mark.parametrize("write", WRITES.values(), ids=WRITES)
def test_a_disk_that_is_full_for_each_thing_that_is_kept(trial, refused, write, when):
    before = stored(trial)
    with refused(FULL, *ALL, when=when):
        told(write(trial), FULL)
        assert stored(trial) == before
        assert trial.get().status_code == 200
        assert trial.client.get("/readyz").status_code == 200
    assert write(trial).status_code < 300


@pytest.mark.parametrize("write", WRITES.values(), ids=WRITES)
def test_a_server_that_may_only_be_read(postgres, trial, write):
    before = stored(trial)
    postgres.do("ALTER ROLE postgres SET default_transaction_read_only = on")
    try:
        trial.client.application.database.close()  # what is connected keeps its settings
        told(write(trial), READ_ONLY)
        assert stored(trial) == before
        assert trial.get().status_code == 200
    finally:
        postgres.do("BEGIN READ WRITE; ALTER ROLE postgres RESET default_transaction_read_only; COMMIT")
    trial.client.application.database.close()
    assert write(trial).status_code < 300


def test_a_database_that_is_made_where_the_disk_is_full(postgres, serving):
    """The first tables are written, the last are not: the next request finds none of them, and makes all."""
    url = postgres.new_database("never_made")
    postgres.do(
        "CREATE FUNCTION refuse_tokens() RETURNS event_trigger LANGUAGE plpgsql AS $$ BEGIN "
        "IF to_regclass('never_made.tokens') IS NOT NULL THEN "
        f"RAISE EXCEPTION 'refused' USING ERRCODE = '{FULL}'; END IF; END $$; "
        "CREATE EVENT TRIGGER refuse_tokens ON ddl_command_end EXECUTE FUNCTION refuse_tokens()"
    )
    client = serving(url)
    try:
        told(client.post("/v1/trials", json=TRIAL), FULL)
    finally:
        postgres.do("DROP EVENT TRIGGER refuse_tokens; DROP FUNCTION refuse_tokens()")
    assert client.post("/v1/trials", json=TRIAL).status_code == 201


def test_a_statement_that_takes_too_long(trial, url, serving):
    """By the server's own setting, while another holds the row."""
    slow = Kept(serving(f"{url}%20-cstatement_timeout%3D300"), trial.path)
    before = stored(trial)
    with trial.client.application.database.begin() as holding:
        holding.exec_driver_sql("SELECT 1 FROM trials FOR UPDATE")
        told(slow.send(rows("c")), "57014")
    assert stored(trial) == before
    assert slow.sent(rows("c"))["batch"] == 2
