"""The desk of analyses: now and later, what cannot be analysed, no room, other owners."""

import pytest

from service.errors import BadInput, Conflict, NotKnown, TooMany
from service.jobs.runners import Here
from tests.jobs.kept import OWNER, TRIAL, Server, Staged
from tests.waiting import until


@pytest.fixture
def runner():
    return Staged()


@pytest.fixture
def server(database_url, runner):
    server = Server(database_url, runner, at_once=0)
    yield server
    server.close()


def test_now_and_later_come_to_the_same_document_and_it_is_used_again(database_url):
    server = Server(database_url, Here())
    try:
        trial = server.kept_trial()
        now = server.desk.analyse_now(OWNER, trial)
        assert (now.new, now.analysis.state, now.document["format"]) == (True, "done", "analysis/1")
        again = server.desk.analyse_now(OWNER, trial)
        assert (again.new, again.analysis.id, again.document) == (False, now.analysis.id, now.document)
        assert server.desk.ask(OWNER, trial).analysis.id == now.analysis.id
        server.trials.change(OWNER, trial, {"title": "Renamed"})
        later = server.desk.ask(OWNER, trial).analysis
        until(lambda: server.state(later.id) == "done")
        document = server.desk.document(OWNER, later.id)
        assert document["verdict"] == now.document["verdict"]
        assert [entry.id for entry in server.desk.page(OWNER, trial, None, limit=9)] == [
            later.id,
            now.analysis.id,
        ]
    finally:
        server.close()


def test_what_cannot_be_analysed_is_refused_and_noted(database_url):
    server = Server(database_url, Here())
    try:
        trial = server.trials.create(OWNER, TRIAL).document["id"]
        with pytest.raises(BadInput, match="1 fault"):
            server.desk.analyse_now(OWNER, trial)
        (failed,) = server.desk.page(OWNER, trial, None, limit=9)
        assert (failed.state, failed.problem["status"]) == ("failed", 422)
        with pytest.raises(Conflict, match="is failed"):
            server.desk.document(OWNER, failed.id)
    finally:
        server.close()


def test_no_room_leaves_no_trace_of_an_analysis_wanted_now(server, runner):
    trial = server.kept_trial()
    runner.refuses = TooMany("busy")
    with pytest.raises(TooMany):
        server.desk.analyse_now(OWNER, trial)
    assert server.desk.page(OWNER, trial, None, limit=9) == []


def test_others_are_told_that_it_is_not_there(server):
    trial = server.kept_trial()
    asked = server.desk.ask(OWNER, trial).analysis.id
    for attempt in (
        lambda: server.desk.ask("else", trial),
        lambda: server.desk.analyse_now("else", trial),
        lambda: server.desk.get("else", asked),
        lambda: server.desk.cancel("else", asked),
        lambda: server.desk.page("else", trial, None, limit=9),
        lambda: server.desk.report("else", asked, form="html", paper="a4"),
    ):
        with pytest.raises(NotKnown):
            attempt()
    assert server.state(asked) != "cancelled"
