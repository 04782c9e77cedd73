"""Batches for kept trials over HTTP, on both kinds of database: whole or not at all, and once under a key."""

import json
import threading
from concurrent.futures import ThreadPoolExecutor

import pytest

from service.errors import StorageFull
from tests.api.kept_requests import HEADING, TRIAL, Kept, faults, problem, rows

JSON = "application/json"


@pytest.fixture
def trial(kept_client):
    return Kept.new(kept_client)


def values(trial) -> dict[tuple[str, int, str], float | None]:
    return {(r["element"], r["round"], r["channel"]): r["value"] for r in trial.readings()}


def test_a_batch_is_kept_with_the_account_of_how_it_was_read(trial):
    answer = trial.send(rows("ab", (1, 2)))
    assert (answer.status_code, answer.headers["ETag"]) == (201, '"2"')
    assert (answer.json["batch"], answer.json["rows"], answer.json["new_elements"]) == (1, 8, ["a", "b"])
    assert answer.json["read_as"]["delimiter"] == ","
    assert len(trial.readings()) == 8
    assert trial.sent(rows("abc", (3,)))["new_elements"] == ["c"]
    assert trial.get().json["kept"]["held"] == {"elements": ["a", "b", "c"], "channels": 2, "runs": 7}


@pytest.mark.parametrize("wrapped", [True, False])
def test_json_brings_the_readings_alone(trial, wrapped):
    readings = [{"element": "a", "round": 1, "channel": "Quay", "value": 5}]
    trial.sent(json.dumps({"readings": readings} if wrapped else readings).encode(), kind=JSON)
    assert values(trial) == {("a", 1, "Quay"): 5.0}
    with_trial = json.dumps({"trial": TRIAL, "readings": readings}).encode()
    assert faults(trial.send(with_trial, kind=JSON))[0]["pointer"] == "#/trial"


def test_nothing_of_a_batch_with_a_fault_is_kept(trial):
    told = faults(trial.send(rows() + b"c,1,Quay,11\nd,1,Quay,x\n"))
    assert [fault["row"] for fault in told] == [6, 7]
    assert trial.readings() == []
    assert trial.get().headers["ETag"] == '"1"'


def test_marks_and_media_types_are_those_of_one_shot_verdicts(trial):
    body = b"element,round,channel,value\na,1,Quay,-\na,1,Harbour,x\n"
    trial.sent(body, query="?nothing_found=-&not_scanned=x")
    assert values(trial) == {("a", 1, "Quay"): None}
    refused = trial.send(b"x", kind="application/pdf")
    assert problem(refused, 415)
    form = trial.send(b"", kind="multipart/form-data; boundary=x")
    assert problem(form, 415)
    assert "multipart" not in form.headers["Accept-Post"]


def test_a_cell_that_is_there_is_refused_with_the_batch_and_the_remedy(trial):
    trial.sent(rows("a"))
    trial.sent(rows("b"))
    answer = trial.send(rows("bc"))
    told = faults(answer)
    assert [(fault["row"], fault["column"], fault["given"]) for fault in told] == [
        (2, "channel", "Harbour"), (3, "channel", "Quay")
    ]  # fmt: skip
    assert all("Batch 2 " in fault["detail"] and "corrects=REASON" in fault["detail"] for fault in told)
    assert len(trial.readings()) == 4
    body = json.dumps([{"element": "a", "round": 1, "channel": "Quay", "value": 1}]).encode()
    assert faults(trial.send(body, kind=JSON))[0]["pointer"] == "#/readings/0/channel"


def test_more_repeats_than_are_listed_are_counted(trial):
    body = rows("ab", range(1, 41))
    trial.sent(body)
    answer = trial.send(body)
    assert len(faults(answer)) == 100
    assert answer.json["count"] == 160


def test_another_scan_of_a_cell_is_told_by_its_time_or_run(trial):
    heading = "element,round,channel,value,run\n"
    trial.sent(f"{heading}a,1,Quay,4,first\n".encode())
    trial.sent(f"{heading}a,1,Quay,6,second\n".encode())
    assert [reading["value"] for reading in trial.readings()] == [4.0, 6.0]
    assert faults(trial.send(f"{heading}a,1,Quay,7,second\n".encode()))


def test_a_correction_takes_the_place_and_the_history_keeps_both(trial):
    trial.sent(rows("ab", (1, 2), value=5))
    kept = trial.sent(rows("a", (2,), value=7), query="?corrects=read+the+wrong+line")
    assert kept["replaced"] == 2
    assert values(trial)["a", 2, "Quay"] == 7.0
    assert len(values(trial)) == 8
    batches = trial.get().json["kept"]["history"]["batches"]
    assert [(b["kind"], b["rows"], b["reason"]) for b in batches] == [
        ("readings", 8, None), ("correction", 2, "read the wrong line")
    ]  # fmt: skip


def test_a_withdrawal_takes_a_batch_back_and_gives_its_cells_free(trial):
    trial.sent(rows("a", value=5))
    trial.sent(rows("a", value=7), query="?corrects=typo")
    kept = trial.sent(b"", query="?withdraws=2&reason=no+typo")
    assert (kept["batch"], kept["withdrawn"], kept["rows"]) == (3, 2, 0)
    assert set(values(trial).values()) == {5.0}
    trial.sent(b"", query="?withdraws=1&reason=wrong+mast")
    assert trial.readings() == []
    assert "1" in faults(trial.send(b"", query="?withdraws=1&reason=again"))[0]["detail"]
    trial.sent(rows("a", value=6))
    assert [b["withdrawn_by"] for b in trial.get().json["kept"]["history"]["batches"]] == [
        4,
        3,
        None,
        None,
        None,
    ]


@pytest.mark.parametrize(
    ("query", "body", "parameter"),
    [
        ("?withdraws=1", b"", "reason"),
        ("?withdraws=1&reason=x", rows(), "withdraws"),
        ("?withdraws=1&reason=x&corrects=y", b"", "withdraws"),
        ("?withdraws=x&reason=x", b"", "withdraws"),
        ("?reason=x", rows("c"), "reason"),
        ("?corrects=", rows("c"), "corrects"),
        ("?unit=dB", rows("c"), "unit"),
    ],
)
def test_what_does_not_go_together_is_refused(trial, query, body, parameter):
    trial.sent()
    assert parameter in [fault.get("parameter") for fault in faults(trial.send(body, query=query))]
    assert trial.get().headers["ETag"] == '"2"'


def test_rounds_are_told_one_way_through_the_whole_trial(trial):
    trial.sent(rows("ab"))
    without = b"element,channel,value\na,Quay,5\n"
    assert "Give the same column" in faults(trial.send(without))[0]["detail"]


def test_batches_without_rounds_are_told_by_time_or_not_taken_twice(kept_client):
    timed = "element,channel,value,at\na,Quay,{},2026-03-0{}T10:00:00Z\n"
    trial = Kept.new(kept_client)
    for day in (1, 2):
        trial.sent(timed.format(day, day).encode())
    assert faults(trial.send(timed.format(3, 2).encode()))
    assert trial.sent(timed.format(3, 2).encode(), query="?corrects=typo")["replaced"] == 1
    assert [reading["value"] for reading in trial.readings()] == [1.0, 3.0]
    untimed = Kept.new(kept_client)
    untimed.sent(b"element,channel,value\na,Quay,5\n")
    assert "cannot be told" in faults(untimed.send(b"element,channel,value\na,Quay,5\n"))[0]["detail"]


def test_a_channel_stays_on_its_rf_channel(trial):
    heading = "element,round,channel,rf_channel,value\n"
    trial.sent(f"{heading}a,1,Quay,27,5\n".encode())
    (fault,) = faults(trial.send(f"{heading}a,2,Quay,28,5\n".encode()))
    assert (fault["column"], fault["given"]) == ("rf_channel", "28")


def test_a_repeat_under_its_key_gets_the_first_answer_and_keeps_nothing_again(trial):
    first = trial.send(key="k1")
    again = trial.send(key="k1")
    assert (first.status_code, first.data, first.headers["ETag"]) == (201, again.data, again.headers["ETag"])
    assert again.status_code == 201
    assert trial.get().json["kept"]["version"] == 2
    trial.sent(rows(rounds=(2,)), key="k2")
    assert trial.send(key="k1").data == first.data


def test_a_key_belongs_to_its_request(trial, kept_client):
    trial.sent(key="of this")
    assert faults(trial.send(rows(rounds=(2,)), key="of this"))
    assert faults(trial.send(key="of this", query="?corrects=x"))
    assert faults(Kept.new(kept_client).send(key="of this"))
    assert len(trial.readings()) == 4


@pytest.mark.parametrize("key", ["", "x" * 256])
def test_a_key_that_is_none_is_refused(trial, key):
    assert faults(trial.send(key=key))[0]["column"] == "Idempotency-Key"


def test_a_refusal_is_not_kept_under_the_key(trial):
    assert faults(trial.send(rows() + b"c,1,Quay,99\n", key="mended"))
    assert faults(trial.send(rows() + b"c,1,Quay,99\n", key="mended"))
    trial.sent(rows(), key="mended")


def test_a_withdrawal_may_be_repeated_under_its_key(trial):
    trial.sent()
    first = trial.sent(b"", query="?withdraws=1&reason=x", key="back")
    assert trial.sent(b"", query="?withdraws=1&reason=x", key="back") == first


def test_while_the_first_is_worked_on_a_repeat_is_told_so(trial, monkeypatch):
    begun, go_on = threading.Event(), threading.Event()

    def slow(*_arguments):
        begun.set()
        go_on.wait(20)
        raise StorageFull("as if")

    app = trial.client.application
    monkeypatch.setattr("service.jobs.kept_readings.read_content", slow)
    with ThreadPoolExecutor(1) as threads:
        first = threads.submit(Kept(app.test_client(), trial.path).send, rows(), key="slow")
        assert begun.wait(20)
        under_way = trial.send(key="slow")
        other = trial.send(rows(rounds=(2,)), key="slow")
        go_on.set()
        assert problem(first.result(), 507)
    assert problem(under_way, 409)
    assert under_way.headers["Retry-After"] == "1"
    assert faults(other)
    monkeypatch.undo()
    trial.sent(key="slow")


def test_four_writers_at_once_lose_nothing_and_keep_nothing_twice(trial):
    """Each sends its own batches and, under one key each, repeats every one; all write to one trial."""
    app = trial.client.application

    def write(writer: str) -> list[tuple[int, dict]]:
        own = Kept(app.test_client(), trial.path)
        answers = []
        for number in range(1, 6):
            for _ in range(2):
                answer = own.send(rows(writer, (number,)), key=f"{trial.path}{writer}{number}")
                answers.append((answer.status_code, answer.json))
        return answers

    with ThreadPoolExecutor(4) as threads:
        answers = [answer for found in threads.map(write, "abcd") for answer in found]
    assert {status for status, _ in answers} == {201}
    assert sorted({answer["batch"] for _, answer in answers}) == list(range(1, 21))
    assert len(trial.readings()) == len(values(trial)) == 40
    assert trial.get().headers["ETag"] == '"21"'


def test_the_same_request_from_four_at_once_is_kept_once(trial):
    app = trial.client.application
    with ThreadPoolExecutor(4) as threads:
        answers = list(threads.map(lambda _: Kept(app.test_client(), trial.path).send(key="same"), range(8)))
    assert {answer.status_code for answer in answers} <= {201, 409}
    assert {answer.json["batch"] for answer in answers if answer.status_code == 201} == {1}
    assert len(trial.readings()) == 4


def test_changes_of_the_document_meanwhile_are_read_again(trial, monkeypatch):
    """The highest value is changed while the batch is read: it is judged by the one that holds."""
    from service.jobs import kept_readings

    read, changed = kept_readings.read_content, []

    def meanwhile(*arguments):
        content = read(*arguments)
        if not changed:
            changed.append(trial.patch({"meter": {"highest": 4}}).status_code)
        return content

    monkeypatch.setattr(kept_readings, "read_content", meanwhile)
    assert "0 to 4" in faults(trial.send(rows(value=5)))[0]["detail"]
    assert changed == [200]


@pytest.mark.parametrize(
    ("limit", "body"), [({"elements": 2}, rows("c")), ({"rounds": 2}, rows("a", (8, 9)))]
)
def test_limits_hold_for_the_trial_as_a_whole(kept_client, limit, body, monkeypatch):
    from dataclasses import replace

    desk = kept_client.application.kept.readings
    monkeypatch.setattr(desk, "_limits", replace(desk._limits, **limit))
    trial = Kept.new(kept_client)
    trial.sent(rows("ab"))
    (fault,) = faults(trial.send(body))
    assert f"at most {next(iter(limit.values()))}" in fault["detail"]


def test_readings_of_a_heading_are_kept_as_they_were_understood(trial):
    body = f"\ufeff{HEADING}\r\na,1,Quay,5\r\n".encode()
    kept = trial.sent(body)
    assert kept["read_as"]["byte_order_mark"]
