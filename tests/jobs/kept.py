"""A kept trial with readings, and a runner whose work ends when the test says so."""

import threading
from concurrent.futures import Future

from service.errors import StorageUnavailable
from service.jobs.analysis_line import AnalysisLine
from service.jobs.analyst import Analyst
from service.jobs.failures import Cancelled
from service.jobs.kept_analyses import KeptAnalyses
from service.jobs.kept_batches import NewBatch
from service.jobs.kept_readings import KeptReadings, Place
from service.jobs.kept_trials import KeptTrials
from service.jobs.observing import Unobserved
from service.jobs.runners import Here
from service.jobs.running import Control, Load, Running
from service.settings import Limits
from service.storage import open_database
from service.storage.holders import Holder

OWNER = "somebody"
GONE = str(Holder(process=2**22 + 1))
"""A worker of this machine that has ended: no process has so high a number (proc(5): pid_max)."""
FAR_AWAY = str(Holder(host="another-machine", instance="0" * 16))
TRIAL = {"title": "Invented", "meter": {"unit": "dB", "resolution": 0.1}, "margin": 1.0}
DOCUMENT = {"verdict": {"outcome": "within noise"}, "method": {"version": "no such version"}}
LEVELS = {"rod": 20.0, "wire": 17.0, "tube": 16.5}


def table(rounds=range(1, 7)) -> bytes:
    lines = ["element,round,channel,value"]
    lines += [
        f"{element},{number},{channel},{level + step + (number * (7 + step)) % 5 / 10:.1f}"
        for number in rounds
        for element, level in LEVELS.items()
        for step, channel in enumerate(("Harbour", "Quay", "Pier"))
    ]
    return "\n".join(lines).encode()


class Away:
    """Stands for a function of the storage while no database answers; counts how often it was asked."""

    def __init__(self):
        self.asked = 0

    def __call__(self, *_arguments, **_more):
        self.asked += 1
        raise StorageUnavailable("gone")


class StagedControl(Control):
    """Stops its work as soon as it is asked to."""

    def __init__(self, future: Future):
        super().__init__()
        self.begun = True
        self.future = future

    def cancel(self) -> None:
        if not self.future.done():
            self.future.set_exception(Cancelled())


class Staged:
    """A runner that notes what is submitted; its work ends by `end`."""

    def __init__(self):
        self.submitted: list[tuple[object, StagedControl]] = []
        self.refuses: Exception | None = None
        self.refused = 0
        self.came = threading.Semaphore(0)

    def submit(self, work, *, seconds):  # noqa: ARG002 (no deadline here)
        if self.refuses is not None:
            self.refused += 1
            raise self.refuses
        future = Future()
        future.set_running_or_notify_cancel()
        control = StagedControl(future)
        self.submitted.append((work, control))
        self.came.release()
        return Running(control, future)

    def control(self, number: int) -> StagedControl:
        return self.submitted[number][1]

    def end(self, number: int, document=DOCUMENT) -> None:
        future = self.control(number).future
        if not future.done():
            future.set_result(document)

    def fail(self, number: int, error: Exception) -> None:
        self.control(number).future.set_exception(error)

    def load(self):
        return Load(0, 0)

    def ready(self):
        return True


class Server:
    """One server on the database: its own connections, line and desk."""

    def __init__(
        self, url: str, runner, *, at_once: int = 2, still_seconds: float = 60.0, announced=lambda _: None
    ):
        self.database = open_database(url)
        self.trials = KeptTrials(self.database, Limits())
        joined = (self.trials, self.database, runner)
        self.announcer = announced(self.database)
        self.analyst = Analyst(
            *joined, limits=Limits(), references=None, observer=Unobserved(), announcer=self.announcer
        )
        self.line = AnalysisLine(
            self.database,
            self.analyst,
            runner,
            at_once=at_once,
            in_use=lambda: True,
            still_seconds=still_seconds,
        )
        self.desk = KeptAnalyses(*joined, analyst=self.analyst, line=self.line, limits=Limits())

    def kept_trial(self, body: bytes | None = None) -> str:
        """The id of a new trial with one batch."""
        trial = self.trials.create(OWNER, TRIAL).document["id"]
        readings = KeptReadings(self.database, Here(), Limits())
        readings.add(Place(OWNER, trial), NewBatch(body or table(), "text/csv"))
        return trial

    def state(self, analysis: str) -> str:
        return self.desk.brief(OWNER, analysis).state

    def close(self) -> None:
        self.line.close()
        self.database.close()
