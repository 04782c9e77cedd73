"""`token add`, `list`, `revoke`: shown once, kept as a digest, and worthless when they should be."""

import hashlib
import re
import sqlite3
from datetime import timedelta
from functools import partial

import pytest

from service.operations.token import token
from service.storage import Database
from service.storage import tokens as store
from service.storage.clock import now_text, time_of
from service.storage.tokens import Tokens
from tests.operations import kept_rows

FORM = re.compile(r"aa_[0-9a-f]{64}\n")


@pytest.fixture
def file(tmp_path):
    return tmp_path / "folder" / "kept.sqlite3"


@pytest.fixture
def run(file):
    return partial(kept_rows.run, token, file)


@pytest.fixture
def tokens(file):
    database = Database(f"sqlite:///{file}")
    yield Tokens(database)
    database.close()


def test_a_token_is_printed_once_and_only_its_digest_kept(run, file):
    result = run("add", "shed", "--may", "write")
    assert result.exit_code == 0, result.output
    assert FORM.fullmatch(result.output)
    secret = result.output.strip()
    kept = b"".join(path.read_bytes() for path in file.parent.iterdir())
    assert secret.encode() not in kept
    assert secret.removeprefix("aa_").encode() not in kept
    with sqlite3.connect(file) as connection:
        ((digest,),) = connection.execute("SELECT digest FROM tokens").fetchall()
    connection.close()
    assert digest == hashlib.sha256(secret.encode()).hexdigest()
    assert secret not in run("list").output


def test_no_two_tokens_are_alike(run):
    outputs = {run("add", f"n{number}", "--may", "read").output for number in range(5)}
    assert len(outputs) == 5


def test_it_belongs_to_its_owner_and_holds_its_days(run, tokens):
    secret = run("add", "shed", "--owner", "mast-crew", "--may", "admin", "--days", "30").output.strip()
    held = tokens.holder(secret)
    assert (held.name, held.owner, held.may, held.state()) == ("shed", "mast-crew", "admin", "valid")
    assert (time_of(held.expires_at) - time_of(held.created_at)).days == 30


def test_the_owner_is_the_name_where_none_is_given_and_may_be_that_of_the_loopback(run, tokens):
    assert tokens.holder(run("add", "shed", "--may", "read").output.strip()).owner == "shed"
    assert tokens.holder(run("add", "mine", "--owner", "", "--may", "read").output.strip()).owner == ""


def test_the_list_shows_each_with_its_state(run, tokens):
    run("add", "shed", "--may", "write")
    tokens.add("old", owner="o", may="read", days=0)
    run("add", "lost", "--may", "admin")
    assert run("revoke", "lost").output == "The token lost is revoked.\n"
    heading, *rows = (line.split() for line in run("list").output.splitlines())
    assert heading[:4] == ["NAME", "OWNER", "MAY", "STATE"]
    assert [row[:4] for row in rows] == [
        ["lost", "lost", "admin", "revoked"],
        ["old", "o", "read", "expired"],
        ["shed", "shed", "write", "valid"],
    ]


def test_a_revoked_token_opens_nothing_and_frees_its_name(run, tokens):
    secret = run("add", "shed", "--may", "write").output.strip()
    taken = run("add", "shed", "--may", "read")
    assert taken.exit_code != 0
    assert "valid already" in taken.output
    run("revoke", "shed")
    assert tokens.holder(secret) is None
    assert FORM.fullmatch(run("add", "shed", "--may", "read").output)
    assert tokens.holder(secret) is None


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["add", "shed"], "--may"),
        (["add", "shed", "--may", "all"], "'read', 'write', 'admin'"),
        (["add", "shed", "--may", "read", "--days", "0"], "1<=x<=3650"),
        (["add", "a b\n", "--may", "read"], "is not one"),
        (["add", "shed", "--owner", "x;y", "--may", "read"], "The owner 'x;y' is not one"),
        (["revoke", "nobody"], "No valid token is named 'nobody'"),
    ],
)
def test_what_is_wrong_is_told_and_nothing_made(run, tokens, arguments, told):
    result = run(*arguments)
    assert result.exit_code != 0
    assert told in result.output
    assert tokens.listed() == []


def test_another_secret_with_the_same_start_of_its_digest_is_no_token(tokens, monkeypatch):
    secret = tokens.add("shed", owner="o", may="read", days=1)
    digest = hashlib.sha256(secret.encode()).hexdigest()
    near = digest[:-1] + ("0" if digest[-1] != "0" else "1")
    monkeypatch.setattr(store, "_digest", lambda _secret: near)
    assert tokens.holder("aa_" + "1" * 64) is None
    monkeypatch.setattr(store, "_digest", lambda _secret: digest)
    assert tokens.holder("aa_" + "1" * 64).name == "shed"


def test_the_whole_digests_are_compared_in_fixed_time(tokens, monkeypatch):
    secret = tokens.add("shed", owner="o", may="read", days=1)
    compared = []
    monkeypatch.setattr(store.hmac, "compare_digest", lambda a, b: compared.append((a, b)) or False)
    assert tokens.holder(secret) is None
    digest = hashlib.sha256(secret.encode()).hexdigest()
    assert compared == [(digest, digest)]


def test_the_last_use_is_kept_to_the_hour(tokens, monkeypatch):
    secret = tokens.add("shed", owner="o", may="read", days=1)
    assert tokens.listed()[0].last_used_at is None
    tokens.holder(secret)
    (first,) = tokens.listed()
    assert first.last_used_at >= first.created_at
    tokens.holder(secret)
    assert tokens.listed() == [first]
    later = 2 * store.NOTED_EVERY
    monkeypatch.setattr(store, "now_text", lambda plus=timedelta(0): now_text(plus=plus + later))
    tokens.holder(secret)
    assert tokens.listed()[0].last_used_at > first.last_used_at
