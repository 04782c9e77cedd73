"""Writers that post small batches under a key each, and repeat every one until it is acknowledged.

The ledger holds what they sent and what they were told; whoever compares reads it while they go on writing.
"""

import hashlib
import json
import random
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from http.client import HTTPConnection, HTTPException

TRIAL = json.dumps({"title": "Invented", "meter": {"unit": "dB"}}).encode()
ROUNDS_A_TRIAL = 25
CHANNELS = 12
REPEATED = 0.2
PAUSE = 0.01
LATER = {409, 429, 503}


@dataclass(frozen=True)
class Sent:
    """A batch that was sent, at least once, to a trial under a key."""

    trial: str
    key: str
    body: bytes

    @property
    def digest(self) -> str:
        """The SHA-256 of the body; every body is another."""
        return hashlib.sha256(self.body).hexdigest()

    @property
    def values(self) -> list[float]:
        """The values of its rows, in order."""
        return [float(line.rsplit(b",", 1)[1]) for line in self.body.split()[1:]]


@dataclass
class Ledger:
    """What all writers sent, by digest, and what they were told; `unforeseen` is what must not be."""

    sent: dict[str, Sent] = field(default_factory=dict)
    acknowledged: dict[str, dict[str, int]] = field(default_factory=dict)
    under_way: set[str] = field(default_factory=set)
    repeats: int = 0
    cut: int = 0
    put_off: dict[int, int] = field(default_factory=dict)
    unforeseen: list[str] = field(default_factory=list)
    given_up: threading.Event = field(default_factory=threading.Event)
    lock: threading.Lock = field(default_factory=threading.Lock)

    def __str__(self) -> str:
        return (
            f"{len(self.acknowledged)} of {len(self.sent)} acknowledged, {self.cut} cut, "
            f"put off {self.put_off}, {self.unforeseen}"
        )

    def told(self, sent: Sent, content: bytes) -> None:
        """Note an acknowledgement; a repeat must say what the first did."""
        answer = json.loads(content)
        with self.lock:
            first = self.acknowledged.setdefault(sent.digest, answer)
            self.under_way.discard(sent.digest)
            if first != answer:
                self.unforeseen.append(f"{sent.key}: told {first}, then {answer}")

    def note(self, what: str) -> None:
        """Note an answer that must not be."""
        with self.lock:
            self.unforeseen.append(what)


class Trials:
    """The trials written to, one after the other; whoever needs the next one first keeps it."""

    def __init__(self) -> None:
        self.paths: list[str] = []
        self._lock = threading.Lock()

    def path(self, number: int, make: Callable[[], str]) -> str:
        """The path of the trial of that number, from 0."""
        with self._lock:
            if number == len(self.paths):
                self.paths.append(make())
            return self.paths[number]


class Writer(threading.Thread):
    """One writer at a port. It ends after the batch during which `stop` is set."""

    def __init__(self, number: int, port: int, trials: Trials, *, ledger: Ledger, stop: threading.Event):
        super().__init__(daemon=True)
        self._number = number
        self._port = port
        self._trials = trials
        self._ledger = ledger
        self._stop_asked = stop
        self._random = random.Random(number)
        self._connection: HTTPConnection | None = None

    def run(self) -> None:
        """Write until told to stop."""
        try:
            self._write()
        except (KeyError, ValueError) as error:
            self._ledger.note(f"an answer that cannot be read: {error!r}")
        finally:
            self._disconnect()

    def _write(self) -> None:
        serial = 0
        while not self._stop_asked.is_set():
            number, place = divmod(serial, ROUNDS_A_TRIAL)
            trial = self._trials.path(number, self._new_trial)
            sent = self._batch(trial, place + 1, serial)
            self._acknowledged(sent)
            while self._random.random() < REPEATED:
                self._ledger.repeats += 1
                self._acknowledged(sent)
            serial += 1

    def _batch(self, trial: str, place: int, serial: int) -> Sent:
        lines = [
            f"w{self._number},{place},c{channel},{self._number}.{serial:07}{channel:02}"
            for channel in range(self._random.randint(1, CHANNELS))
        ]
        body = "\n".join(["element,round,channel,value", *lines, ""]).encode()
        sent = Sent(trial, f"{self._number}-{serial}", body)
        with self._ledger.lock:
            self._ledger.sent[sent.digest] = sent
            self._ledger.under_way.add(sent.digest)
        return sent

    def _acknowledged(self, sent: Sent) -> None:
        headers = {"Content-Type": "text/csv", "Idempotency-Key": sent.key}
        content = self._answered(f"{sent.trial}/readings", sent.body, headers)
        if content is not None:
            self._ledger.told(sent, content)

    def _new_trial(self) -> str:
        content = self._answered("/v1/trials", TRIAL, {"Content-Type": "application/json"})
        return f"/v1/trials/{json.loads(content or b'{}').get('id')}"

    def _answered(self, path: str, body: bytes, headers: dict[str, str]) -> bytes | None:
        """The body of the answer 201, asked for until it comes; None for an answer that must not be."""
        while not self._ledger.given_up.is_set():
            try:
                status, content = self._ask(path, body, headers)
            except (OSError, HTTPException):
                self._disconnect()
                self._ledger.cut += 1
                time.sleep(PAUSE)
                continue
            if status == 201:
                return content
            if status not in LATER:
                self._ledger.note(f"{status} {content[:500]!r}")
                return None
            self._ledger.put_off[status] = self._ledger.put_off.get(status, 0) + 1
            time.sleep(PAUSE)
        return None

    def _disconnect(self) -> None:
        if self._connection is not None:
            self._connection.close()
        self._connection = None

    def _ask(self, path: str, body: bytes, headers: dict[str, str]) -> tuple[int, bytes]:
        if self._connection is None:
            self._connection = HTTPConnection("127.0.0.1", self._port, timeout=60)
        self._connection.request("POST", path, body, headers)
        answer = self._connection.getresponse()
        return answer.status, answer.read()
