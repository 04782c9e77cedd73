"""A server killed in the middle of an analysis, and the next one that brings it to its end."""

from contextlib import contextmanager

import httpx

from tests.jobs.kept import TRIAL
from tests.started_server import start
from tests.waiting import until

LONG_TRIAL = {"elements": 9, "rounds": 20}


def long_table() -> bytes:
    """Large enough that its analysis is still under way when the server is killed."""
    lines = ["element,round,channel,value"]
    for round_ in range(1, LONG_TRIAL["rounds"] + 1):
        for element in range(LONG_TRIAL["elements"]):
            lines += [
                f"e{element},{round_},c{channel},{20 + (element * 7 + round_ * 3 + channel) % 9 / 10:.1f}"
                for channel in range(4)
            ]
    return "\n".join(lines).encode()


@contextmanager
def killed_in_the_end(folder):
    """A client of a server on the database of a folder."""
    running = start(AERIAL_ASSAY_DATABASE=f"sqlite:///{folder / 'kept.sqlite3'}")
    try:
        with httpx.Client(base_url=running.url, timeout=60, trust_env=False) as client:
            yield client
    finally:
        running.kill()


def test_an_analysis_survives_the_death_of_its_server(tmp_path):
    with killed_in_the_end(tmp_path) as client:
        trial = client.post("/v1/trials", json=TRIAL).json()["id"]
        headers = {"Content-Type": "text/csv"}
        sent = client.post(f"/v1/trials/{trial}/readings", content=long_table(), headers=headers)
        assert sent.status_code == 201, sent.text
        asked = client.post(f"/v1/trials/{trial}/analyses", headers={"Prefer": "respond-async"})
        path = asked.headers["Location"]
        until(lambda: client.get(path).json()["stage"] == "verdict")
    with killed_in_the_end(tmp_path) as client:
        until(lambda: client.get(path).json()["state"] == "done")
        seen = client.get(path).json()
        assert seen["analysis"]["verdict"]["rounds_done"] == LONG_TRIAL["rounds"]
        assert seen["started_at"] > asked.json()["created_at"]
