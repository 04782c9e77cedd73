"""Idempotency keys: one claim wins, and whoever was killed holds nothing."""

import os
import subprocess
import sys
from datetime import timedelta

from service.storage import key_rows
from service.storage.clock import now_text, time_of
from service.storage.holders import Holder, is_gone
from service.storage.key_rows import DONE, RUNNING, Claim
from service.storage.tables import IDEMPOTENCY_KEYS

HOUR = timedelta(hours=1)


def claim(key, owner="a"):
    return Claim(owner, key, "POST /x", "0" * 64, Holder())


def test_one_claim_wins_and_its_answer_is_kept(database):
    first, second = claim("one"), claim("one")
    with database.begin() as connection:
        assert key_rows.insert_claim(connection, first)
        assert not key_rows.insert_claim(connection, second)
        assert key_rows.insert_claim(connection, claim("one", owner="b"))
    with database.begin() as connection:
        assert key_rows.find_key(connection, "a", "one").state == RUNNING
        assert not key_rows.finish_claim(connection, second, status=201, answer={"batch": 2})
        assert key_rows.finish_claim(connection, first, status=201, answer={"batch": 1})
    with database.begin() as connection:
        row = key_rows.find_key(connection, "a", "one")
        key_rows.drop_key(connection, "a", "one", holder=str(first.holder))
        assert key_rows.find_key(connection, "a", "one") == row
    assert (row.state, row.status, row.answer) == (DONE, 201, {"batch": 1})


def test_a_claim_that_was_dropped_is_free(database):
    first = claim("two")
    with database.begin() as connection:
        assert key_rows.insert_claim(connection, first)
        key_rows.drop_key(connection, "a", "two", holder="somebody else")
        assert key_rows.find_key(connection, "a", "two") is not None
        key_rows.drop_key(connection, "a", "two", holder=str(first.holder))
        assert key_rows.insert_claim(connection, claim("two"))


def test_keys_are_kept_for_two_days_and_no_longer(database):
    with database.begin() as connection:
        for hours, key in ((47, "young"), (49, "old")):
            key_rows.insert_claim(connection, claim(key))
            made = IDEMPOTENCY_KEYS.update().where(IDEMPOTENCY_KEYS.c.key == key)
            connection.execute(made.values(created_at=now_text(plus=timedelta(hours=-hours))))
        key_rows.insert_claim(connection, claim("new"))
        assert key_rows.find_key(connection, "a", "young") is not None
        assert key_rows.find_key(connection, "a", "old") is None


def test_a_process_that_was_killed_holds_nothing():
    mine = Holder()
    assert not is_gone(str(mine), now_text(), at_most=HOUR)
    assert is_gone(str(mine), now_text(plus=-2 * HOUR), at_most=HOUR)
    assert is_gone(str(Holder(instance="0" * 16)), now_text(), at_most=HOUR)
    other = subprocess.Popen([sys.executable, "-c", "input()"], stdin=subprocess.PIPE)
    assert not is_gone(str(Holder(process=other.pid)), now_text(), at_most=HOUR)
    other.kill()
    os.waitid(os.P_PID, other.pid, os.WEXITED | os.WNOWAIT)  # it has ended, and is listed still
    assert is_gone(str(Holder(process=other.pid)), now_text(), at_most=HOUR)
    other.communicate()
    assert is_gone(str(Holder(process=other.pid)), now_text(), at_most=HOUR)
    assert not is_gone(str(Holder(process=1)), now_text(), at_most=HOUR)


def test_of_another_machine_only_the_time_tells():
    elsewhere = str(Holder(host="elsewhere/with/slashes", process=os.getpid(), instance="x"))
    assert not is_gone(elsewhere, now_text(), at_most=HOUR)
    assert is_gone(elsewhere, now_text(plus=-2 * HOUR), at_most=HOUR)
    assert not is_gone(elsewhere, now_text(plus=HOUR / 2), at_most=HOUR)
    assert is_gone(elsewhere, now_text(plus=2 * HOUR), at_most=HOUR)  # else nobody could end it for so long


def test_a_clock_that_was_set_back_ends_no_claim():
    assert not is_gone(str(Holder()), now_text(plus=2 * HOUR), at_most=HOUR)


def test_times_are_texts_that_order_as_times_do():
    early, late = now_text(), now_text(plus=timedelta(microseconds=5))
    assert early < late
    assert time_of(late) > time_of(early)
    assert len(early) == len(late) == 27
