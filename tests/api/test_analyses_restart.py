"""A server killed in the middle of an analysis, and the next one that brings it to its end."""

import os
import signal
import subprocess
import sys
import time
from contextlib import contextmanager

import httpx

from tests.jobs.kept import TRIAL

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
def server(folder):
    environment = {
        **os.environ,
        "AERIAL_ASSAY_DATABASE": f"sqlite:///{folder / 'kept.sqlite3'}",
        "AERIAL_ASSAY_REFERENCES": str(folder / "references"),
    }
    command = [sys.executable, "-m", "service", "serve", "--port", "0", "--workers", "1"]
    process = subprocess.Popen(
        command, env=environment, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
    )
    try:
        base_url = process.stdout.readline().split()[-1]
        with httpx.Client(base_url=base_url, timeout=30, trust_env=False) as client:
            yield process, client
    finally:
        process.kill()
        process.wait()
        process.stdout.close()


def until(condition, seconds: float = 60) -> None:
    deadline = time.monotonic() + seconds
    while not condition():
        assert time.monotonic() < deadline
        time.sleep(0.05)


def test_an_analysis_survives_the_death_of_its_server(tmp_path):
    with server(tmp_path) as (process, client):
        trial = client.post("/v1/trials", json=TRIAL).json()["id"]
        headers = {"Content-Type": "text/csv"}
        sent = client.post(f"/v1/trials/{trial}/readings", content=long_table(), headers=headers)
        assert sent.status_code == 201, sent.text
        asked = client.post(f"/v1/trials/{trial}/analyses", headers={"Prefer": "respond-async"})
        path = asked.headers["Location"]
        until(lambda: client.get(path).json()["stage"] == "verdict")
        process.send_signal(signal.SIGKILL)
        process.wait()
    with server(tmp_path) as (_, client):
        until(lambda: client.get(path).json()["state"] == "done")
        seen = client.get(path).json()
        assert seen["analysis"]["verdict"]["rounds_done"] == LONG_TRIAL["rounds"]
        assert seen["started_at"] > asked.json()["created_at"]
