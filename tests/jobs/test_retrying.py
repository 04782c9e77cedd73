"""When a notice is sent again."""

from datetime import UTC, datetime, timedelta

import pytest

from service.jobs import retrying
from service.jobs.retrying import MOST_TRIES, PAUSES, pause_after

MINUTE = timedelta(minutes=1)


def test_there_are_nine_tries_over_about_an_hour():
    pauses = [pause_after(tries, None) for tries in range(MOST_TRIES)]
    assert pauses == [*PAUSES, None]
    assert len(pauses) == 9
    assert 55 * MINUTE < sum(PAUSES, timedelta(0)) < 65 * MINUTE
    assert list(PAUSES) == sorted(PAUSES)


@pytest.fixture
def noon(monkeypatch):
    monkeypatch.setattr(retrying, "now", lambda: datetime(2026, 3, 1, 12, tzinfo=UTC))


@pytest.mark.parametrize(
    ("asked", "pause"),
    [
        ("90", timedelta(seconds=90)),
        ("0", timedelta(seconds=10)),
        ("99999999999999", timedelta(minutes=20)),
        ("Sun, 01 Mar 2026 12:05:00 GMT", 5 * MINUTE),
        ("Sun, 01 Mar 2026 12:05:00 -0000", 5 * MINUTE),
        ("Sun, 01 Mar 2026 11:00:00 GMT", timedelta(seconds=10)),
        ("Sun, 01 Mar 2099 11:00:00 GMT", timedelta(minutes=20)),
        ("soon", timedelta(seconds=10)),
        ("-5", timedelta(seconds=10)),
        ("٣", timedelta(seconds=10)),
        ("", timedelta(seconds=10)),
    ],
)
@pytest.mark.usefixtures("noon")
def test_an_answer_may_ask_for_longer_within_a_bound(asked, pause):
    """The forms of Retry-After: RFC 9110, section 10.2.3."""
    assert pause_after(0, asked) == pause


def test_no_answer_gets_more_tries_than_there_are():
    assert pause_after(len(PAUSES), "60") is None
