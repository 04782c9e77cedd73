"""kill -9 of the server at random moments under four concurrent writers, then a look at what is stored.

python -m tests.faults.kill_server --times 1000 --database sqlite
python -m tests.faults.kill_server --times 1000 --database postgresql

--served-by command kills `aerial-assay serve` with its worker process instead of the lighter server of
`tests.faults.serving`; --victim database crashes PostgreSQL instead and leaves the server alone.
"""

import argparse
import random
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from tests.faults.servers import Commanded, Forked, Server, Starter, free_port, lives
from tests.faults.stored import Found, Store
from tests.faults.writers import Ledger, Trials, Writer
from tests.postgres import PostgresServer
from tests.waiting import until

WRITERS = 4
MOST_ACKNOWLEDGED = 16
LONGEST_PAUSE = 0.05
LONGEST_START = 0.2
SHARE_WHILE_STARTING = 0.1
LOOKED_BACK = 2
"""Trials that are compared after each restart, the last ones; all of them are in the end."""


@dataclass
class Tally:
    """What came of it."""

    ledger: Ledger
    kills: int = 0
    while_starting: int = 0
    with_requests_under_way: int = 0
    kept_but_not_told: int = 0
    found: Found = field(default_factory=Found)
    at_the_end: Found = field(default_factory=Found)

    def wrong(self) -> list[str]:
        """Everything that must not be."""
        return [*self.found.wrong(), *self.at_the_end.wrong(), *self.ledger.unforeseen]

    def lines(self) -> list[str]:
        """The counts, as printed."""
        ledger, end = self.ledger, self.at_the_end
        return [
            f"kills: {self.kills}, of them {self.while_starting} while starting and "
            f"{self.with_requests_under_way} with requests under way",
            f"batches sent: {len(ledger.sent)}, acknowledged: {len(ledger.acknowledged)}, "
            f"stored: {end.looked_at}",
            f"stored, but the acknowledgement was cut off: {self.kept_but_not_told}",
            f"connections cut or refused: {ledger.cut}, repeats after an acknowledgement: {ledger.repeats}, "
            f"put off: {dict(sorted(ledger.put_off.items()))}",
            f"acknowledged and lost: {len(self.found.lost) + len(end.lost)}",
            f"half stored: {len(self.found.half_stored) + len(end.half_stored)}",
            f"stored twice: {len(self.found.stored_twice) + len(end.stored_twice)}",
            f"other faults: {len(self.wrong())}",
        ]


class Killing:
    """Four writers, a server that is killed again and again, and the comparison after each restart."""

    def __init__(self, url: str, starter: Starter, *, crash: PostgresServer | None = None, seed: int = 1):
        self._url = url
        self._starter = starter
        self._crash = crash
        self._port = free_port()
        self._random = random.Random(seed)
        self._trials = Trials()
        self._ledger = Ledger()
        self.tally = Tally(self._ledger)
        self._stop = threading.Event()
        self._writers = [
            Writer(number, self._port, self._trials, ledger=self._ledger, stop=self._stop)
            for number in range(WRITERS)
        ]

    def run(self, times: int, *, each: Callable[[Tally], None] = lambda _tally: None) -> Tally:
        """Kill so many times (or crash the database, where one is given), then let all writers finish."""
        store = Store(self._url)
        server = self._started().wait()
        for writer in self._writers:
            writer.start()
        try:
            while self.tally.kills < times:
                cut_off, moment = self._strike(server)
                server = self._back(server)
                self._compare(store, cut_off, moment)
                each(self.tally)
            self._finish(store)
        finally:
            self._ledger.given_up.set()
            store.close()
        server.kill()
        return self.tally

    def _compare(self, store: Store, cut_off: set[str], moment: str) -> None:
        until(lambda: self._trials.paths)  # the first kills may come before there are tables
        self.tally.kept_but_not_told += store.stored_before(cut_off, moment)
        self.tally.found.add(store.compare(self._ledger, self._trials.paths[-LOOKED_BACK:]))

    def _finish(self, store: Store) -> None:
        """Let the writers finish what they are at, and compare everything."""
        self._stop.set()
        for writer in self._writers:
            writer.join()
        self.tally.at_the_end = store.compare(self._ledger, self._trials.paths)
        self.tally.at_the_end.keys = store.unfinished_keys()

    def _started(self) -> Server:
        return self._starter.start(self._url, self._port)

    def _strike(self, server: Server) -> tuple[set[str], str]:
        """Kill or crash at a random moment; the batches whose answer was cut off by that, and the moment."""
        wanted = len(self._ledger.acknowledged) + self._random.randint(0, MOST_ACKNOWLEDGED)
        until(lambda: len(self._ledger.acknowledged) >= wanted or not lives(server.process))
        if not lives(server.process):
            raise RuntimeError(f"the server ended by itself; {self._ledger}")
        time.sleep(self._random.uniform(0.0, LONGEST_PAUSE))
        with self._ledger.lock:
            before = set(self._ledger.under_way)
        moment = datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%S.%fZ")
        if self._crash is None:
            server.kill()
        else:
            self._crash.crash()
        with self._ledger.lock:
            cut_off = before & self._ledger.under_way
        self.tally.kills += 1
        self.tally.with_requests_under_way += bool(cut_off)
        return cut_off, moment

    def _back(self, server: Server) -> Server:
        """The server that goes on: the same one behind a database that was started again, or a new one."""
        if self._crash is not None:
            self._crash.start()
            return server
        server = self._started()
        if self._random.random() < SHARE_WHILE_STARTING:
            time.sleep(self._random.uniform(0.0, LONGEST_START))
            server.kill()
            self.tally.kills += 1
            self.tally.while_starting += 1
            server = self._started()
        return server.wait()


def main() -> int:
    """Print the counts; 1 where anything is wrong."""
    asked = _arguments()
    postgres = PostgresServer.make() if asked.database == "postgresql" else None
    with tempfile.TemporaryDirectory(prefix="assay-kill-") as folder:
        place = Path(folder)
        url = postgres.new_database("killed") if postgres else f"sqlite:///{place / 'kept.sqlite3'}"
        starter = Commanded(place / "log") if asked.served_by == "command" else Forked(place / "log")
        crash = postgres if asked.victim == "database" else None
        try:
            tally = Killing(url, starter, crash=crash, seed=asked.seed).run(asked.times, each=_progress)
        finally:
            starter.close()
            if postgres:
                postgres.close()
    print("\n".join([f"{asked.database}, served by {asked.served_by}:", *tally.lines(), *tally.wrong()[:20]]))
    return bool(tally.wrong())


def _progress(tally: Tally) -> None:
    """Tell now and then; end at once where something is wrong."""
    if tally.kills % 50 == 0:
        print(f"{tally.kills} kills, {len(tally.ledger.acknowledged)} acknowledged", flush=True)
    if tally.wrong():
        raise SystemExit("\n".join(tally.wrong()[:20]))


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.faults.kill_server")
    parser.add_argument("--times", type=int, default=1000)
    parser.add_argument("--database", choices=["sqlite", "postgresql"], default="sqlite")
    parser.add_argument("--served-by", choices=["fork", "command"], default="fork")
    parser.add_argument("--victim", choices=["server", "database"], default="server")
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    if asked.victim == "database" and asked.database == "sqlite":
        parser.error("only PostgreSQL has a server that can crash")
    return asked


if __name__ == "__main__":
    sys.exit(main())
