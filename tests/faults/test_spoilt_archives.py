"""Damaged and forged archives: a slice of what is tried by hand (`spoilt_archives`)."""

import pytest

from service.errors import BadInput
from tests.faults.spoilt_archives import Spoiling
from tests.jobs.archives import Archivist, forged, members_of

TIMES = 240


@pytest.fixture(scope="module")
def archivist(tmp_path_factory):
    folder = tmp_path_factory.mktemp("spoilt")
    archivist = Archivist(f"sqlite:///{folder / 'kept.sqlite3'}", folder)
    yield archivist
    archivist.server.database.close()


def test_no_wrong_verdict_is_accepted(archivist, capsys):
    came = Spoiling(archivist).run(TIMES)
    with capsys.disabled():
        print("", *came.lines(), sep="\n")
    assert came.wrong == []
    assert sum(came.counts.values()) == TIMES
    assert came.counts["flipped, refused"] > TIMES // 4
    assert came.counts["lied, does not agree"] > 0


def test_a_replay_that_agrees_with_everything_is_found(archivist, monkeypatch):
    spoiling = Spoiling(archivist)
    real = archivist.replay
    monkeypatch.setattr(archivist, "replay", lambda body: real(body) | {"agrees": True})
    assert spoiling.run(TIMES).wrong


def test_a_history_that_cannot_be_told_is_refused(archivist):
    """A date that was none was a server error."""
    archive = archivist.archive()
    history = members_of(archive)["history.json"]
    at = history.index(b'"at": "') + len(b'"at": "')
    broken = history[:at] + b"u" + history[at + 1 :]
    with pytest.raises(BadInput, match="1 fault"):
        archivist.replay(forged(archive, history_json=broken))
