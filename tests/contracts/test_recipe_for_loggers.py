"""The recipe of a logger: nothing is lost and nothing doubled, whoever is cut off."""

import json
import subprocess
import sys
import threading
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

import httpx

from tests.contracts.recipe_service import EXAMPLES, LINES, Service, cells_of
from tests.waiting import until

RUNS = len({(json.loads(line)["element"], json.loads(line)["round"]) for line in LINES})


@contextmanager
def logging(service: Service, trial: str, **more: str) -> Iterator[subprocess.Popen]:
    """The recipe of a logger, fed by its standard input; it has ended behind the block."""
    environment = {
        **service.environment, "TRIAL": trial, "BUFFER": str(service.folder / "buffer"), **more
    }  # fmt: skip
    log = (service.folder / "logger").open("ab")
    with (
        log,
        subprocess.Popen(
            [sys.executable, EXAMPLES / "post-readings.py"],
            env=environment,
            text=True,
            stdin=subprocess.PIPE,
            stderr=log,
        ) as process,
    ):
        try:
            yield process
        finally:
            process.kill()  # it has ended, or the test has failed


def feed(process: subprocess.Popen, lines: list[str]) -> None:
    for line in lines:
        process.stdin.write(line + "\n")
        process.stdin.flush()


def buffered(service: Service) -> int:
    """The lines that wait on the disk."""
    try:
        texts = [path.read_bytes() for path in (service.folder / "buffer").iterdir()]
    except FileNotFoundError:  # not made yet, or sent meanwhile
        return -1
    return sum(text.count(b"\n") for text in texts)


def test_a_logger_loses_and_doubles_nothing_when_the_server_is_killed_between(service):
    server = service.start()
    trial = service.new_trial()
    with logging(service, trial) as process:
        for begin in range(0, len(LINES), 9):  # runs have four lines: killed within them and between
            feed(process, LINES[begin : begin + 9])
            if begin in {9, 27}:
                server.kill()
            if begin in {18, 36}:
                server = service.start()
        process.stdin.close()
        assert process.wait(120) == 0
    assert service.cells(trial) == cells_of(LINES)
    assert service.batches(trial) == RUNS
    assert buffered(service) == 0


def test_a_logger_that_is_killed_itself_goes_on_where_it_was(service):
    server = service.start()
    trial = service.new_trial()
    server.kill()
    half = len(LINES) // 2 + 1
    with logging(service, trial) as process:
        feed(process, LINES[:half])
        until(lambda: buffered(service) == half)
        process.kill()
    assert process.returncode != 0
    service.start()
    with logging(service, trial) as process:
        feed(process, LINES[half:])
        process.stdin.close()
        assert process.wait(60) == 0
    assert service.cells(trial) == cells_of(LINES)


def test_a_logger_tells_what_could_not_be_sent_in_the_end(service):
    server = service.start()
    trial = service.new_trial()
    server.kill()
    with logging(service, trial, PATIENCE="0.1") as process:
        feed(process, LINES[:4])
        process.stdin.close()
        assert process.wait(60) == 1
    assert "the next start sends the rest" in (service.folder / "logger").read_text()
    assert buffered(service) == 4


def test_a_batch_that_is_refused_is_laid_aside_and_holds_nothing_up(service):
    service.start()
    trial = service.new_trial()
    wrong = '{"element": "copper-loop", "round": 8, "channel": "Pier", "value": "strong"}'
    with logging(service, trial) as process:
        feed(process, [*LINES[:4], wrong, *LINES[4:8]])
        process.stdin.close()
        assert process.wait(60) == 0
    assert service.cells(trial) == cells_of(LINES[:8])
    (aside,) = (service.folder / "buffer").iterdir()
    assert aside.name.endswith(".ndjson.refused")
    assert json.loads(aside.read_text()) == json.loads(wrong)


@contextmanager
def losing_answers(service: Service) -> Iterator[tuple[str, list[str]]]:
    """A way to the service that loses the first answer to each key; its address, and the keys."""
    keys: list[str] = []

    class Way(BaseHTTPRequestHandler):
        def do_POST(self):
            body = self.rfile.read(int(self.headers["Content-Length"]))
            passed = {name: value for name, value in self.headers.items() if name != "Host"}
            answer = httpx.post(service.url + self.path, content=body, headers=passed, timeout=60)
            keys.append(self.headers["Idempotency-Key"])
            if keys.count(keys[-1]) > 1:
                self.send_response(answer.status_code)
                self.send_header("Content-Length", "0")
                self.end_headers()

        def log_message(self, *_said):
            pass

    way = ThreadingHTTPServer(("127.0.0.1", 0), Way)
    thread = threading.Thread(target=lambda: way.serve_forever(poll_interval=0.02))
    thread.start()
    try:
        yield f"http://127.0.0.1:{way.server_port}", keys
    finally:
        way.shutdown()
        thread.join()
        way.server_close()


def test_a_batch_whose_answer_was_lost_is_sent_again_and_kept_once(service):
    service.start()
    trial = service.new_trial()
    with losing_answers(service) as (address, keys), logging(service, trial, SERVER=address) as process:
        feed(process, LINES[:12])
        process.stdin.close()
        assert process.wait(60) == 0
    assert sorted(Counter(keys).values()) == [2, 2, 2]
    assert service.cells(trial) == cells_of(LINES[:12])
    assert service.batches(trial) == 3
