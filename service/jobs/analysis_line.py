"""The line of analyses: a thread that takes those that wait, and those whose worker is gone, to be done.

Any number of servers look at one database. An analysis is taken by one UPDATE that names it as it was seen,
so that one of them gets it. Whether a worker of another machine is gone is told by a heartbeat that stands
still on this server's own clock: the clocks of two machines need not agree, and may be set back.
"""

import time
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from datetime import timedelta
from typing import Any

from service.jobs.analyst import HEARTBEAT_SECONDS, Analyst
from service.jobs.looker import Looker
from service.jobs.runners import Runner
from service.storage import Database, analysis_rows
from service.storage.analysis_rows import RUNNING, KeptAnalysis
from service.storage.holders import Holder, is_gone

PAUSE_SECONDS = 1.0
STILL_SECONDS = 5 * HEARTBEAT_SECONDS
BY_TIME_NEVER = timedelta(days=36_500)


class AnalysisLine:
    """Takes analyses that wait, at most `at_once` at a time.

    in_use: whether there is a database to look at; looking would make one.
    """

    def __init__(
        self,
        database: Database,
        analyst: Analyst,
        runner: Runner,
        *,
        at_once: int,
        in_use: Callable[[], bool],
        still_seconds: float = STILL_SECONDS,
    ):
        self._database = database
        self._analyst = analyst
        self._runner = runner
        self._at_once = at_once
        self._still_seconds = still_seconds
        self._looker = Looker(
            self._take_what_waits, place="the line of analyses", pause_seconds=PAUSE_SECONDS, in_use=in_use
        )
        self._threads = ThreadPoolExecutor(max(1, at_once))
        self._under_way: set[str] = set()
        self._beats: dict[str, tuple[str | None, float]] = {}

    def start(self) -> None:
        """Begin to look, now and then from now on."""
        self._looker.start()

    def look(self) -> None:
        """Look at once: there is something to take."""
        self._looker.look()

    def close(self) -> None:
        """Take nothing more, and put back what is under way."""
        self._looker.leave()
        self._analyst.leave()
        self._looker.join()
        self._threads.shutdown()

    def _take_what_waits(self) -> None:
        with self._database.reading() as connection:
            there = analysis_rows.open_analyses(connection)
        self._forget_all_but(there)
        for seen in there:
            if not self._has_room():
                return
            if seen.id not in self._under_way and self._may_be_taken(seen):
                self._take(seen)

    def _has_room(self) -> bool:
        room = len(self._under_way) < self._at_once and not self._looker.leaving.is_set()
        return room and self._runner.ready()

    def _may_be_taken(self, seen: KeptAnalysis) -> bool:
        if seen.state != RUNNING:
            return True
        worker, beat, now = str(seen.worker), seen.heartbeat_at, time.monotonic()
        if is_gone(worker, str(beat), at_most=BY_TIME_NEVER):
            return True
        last, since = self._beats.setdefault(seen.id, (beat, now))
        if last != beat:
            self._beats[seen.id] = (beat, now)
            return False
        return now - since > self._still_seconds

    def _take(self, seen: KeptAnalysis) -> None:
        worker = str(Holder())
        with self._database.begin() as connection:
            if not analysis_rows.take(connection, seen, worker):
                return
            held = analysis_rows.find_analysis(connection, seen.owner, seen.id)
        if held is not None:
            self._under_way.add(held.id)
            self._threads.submit(self._analyst.see_through, held).add_done_callback(
                lambda future: self._ended(held.id, future)
            )

    def _ended(self, analysis_id: str, future: "Future[Any]") -> None:
        self._under_way.discard(analysis_id)
        self._looker.log(future.exception())
        self._looker.look()

    def _forget_all_but(self, there: list[KeptAnalysis]) -> None:
        ids = {seen.id for seen in there}
        self._beats = {key: beat for key, beat in self._beats.items() if key in ids}
