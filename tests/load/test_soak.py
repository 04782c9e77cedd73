"""Six seconds of what is done by hand for half an hour (`soak`); memory is judged there alone."""

from tests.load.soak import soaked

SECONDS = 6


def test_all_that_was_acknowledged_is_stored_and_nothing_unforeseen_is_answered(tmp_path):
    came = soaked(SECONDS / 60, tmp_path)
    assert came.wrong(flat=False) == []
    assert len(came.ledger.acknowledged) == len(came.ledger.sent) == came.found.looked_at > 0
    routes = " ".join(came.times.seconds)
    for part in ("GET /v1/trials/{id}/readings", "POST /v1/trials/{id}/readings", "POST /v1/verdicts"):
        assert part in routes
    assert len(came.samples.resident) > 10
