"""Two servers on one SQLite file: the same as by hand (`two_servers`), fewer updates."""

from tests.faults.two_servers import counted

UPDATES = 120


def test_no_update_is_lost_between_two_servers(tmp_path, forked):
    count, version, statuses = counted(f"sqlite:///{tmp_path / 'kept.sqlite3'}", forked, UPDATES)
    assert set(statuses) <= {200, 412}
    assert (count, version, statuses[200]) == (UPDATES, UPDATES + 1, UPDATES)
