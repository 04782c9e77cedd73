"""What was acknowledged was on the disk before: the same as by hand (`synced_answers`), fewer answers."""

import pytest

from tests.faults.synced_answers import account_of, traced

ANSWERS = 20
FILE = "/d/kept.sqlite3"
WRITE = f'7 pwrite64(5<{FILE}-wal>, "x", 24, 0) = 24'
SYNC = f"7 fdatasync(5<{FILE}-wal>) = 0"
ANSWER = '8 sendto(6<socket:[1]>, "HTTP/1.1 201 CREATED"..., 300, 0, NULL, 0) = 300'


def test_every_answer_leaves_after_the_data_is_on_the_disk():
    account = traced(ANSWERS)
    assert (account.answers, account.unsynced, account.without_sync) == (ANSWERS, [], 0)
    assert account.syncs >= ANSWERS


def test_the_trace_tells_where_sqlite_is_set_not_to_wait():
    account = traced(3, setting="NORMAL")
    assert account.answers == 3
    assert account.unsynced


@pytest.mark.parametrize(
    ("lines", "unsynced"),
    [
        ([WRITE, SYNC, ANSWER], 0),
        ([WRITE, ANSWER, SYNC], 1),
        ([WRITE, SYNC, WRITE, ANSWER], 1),
        ([WRITE, SYNC.replace("-wal", ""), ANSWER], 1),
        ([WRITE, SYNC.replace("= 0", "= -1 EIO (Input/output error)"), ANSWER], 1),
        ([SYNC.replace(") = 0", " <unfinished ...>"), WRITE, "7 <... fdatasync resumed>) = 0", ANSWER], 1),
        ([WRITE, SYNC.replace(") = 0", " <unfinished ...>"), "7 <... fdatasync resumed>) = 0", ANSWER], 0),
        ([WRITE, SYNC.replace(") = 0", " <unfinished ...>"), ANSWER, "7 <... fdatasync resumed>) = 0"], 1),
    ],
)
def test_a_trace_is_read_for_what_it_says(lines, unsynced):
    account = account_of(lines, FILE)
    assert (account.answers, len(account.unsynced)) == (1, unsynced)
