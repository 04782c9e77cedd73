"""Work that a worker process can import: what may go well, and everything that may go wrong."""

import gc
import os
import signal
import time

from service.errors import BadInput, Fault


def add(first: int, second: int) -> int:
    return first + second


def process_id() -> int:
    return os.getpid()


def watched_objects() -> int:
    """What a collection would look through."""
    return len(gc.get_objects())


def refuse() -> None:
    raise BadInput([Fault("one of bars, dB", pointer="#/trial/meter/unit", given="feet")], count=7)


def fail() -> None:
    raise RuntimeError("secret reading 41.5")


def die() -> None:
    os.kill(os.getpid(), signal.SIGKILL)


def sleep(seconds: float) -> float:
    time.sleep(seconds)
    return seconds


def wait_for(path: str) -> str:
    """Until the file is there."""
    while not os.path.exists(path):
        time.sleep(0.01)
    return path


def take_memory(bytes_wanted: int) -> int:
    return len(bytearray(bytes_wanted))


def interrupt() -> str:
    os.kill(os.getpid(), signal.SIGINT)
    return "still here"


def tell_and_wait(path: str, tell) -> str:
    """Two stages, the second one until the file is there."""
    tell("first")
    tell("second")
    return wait_for(path)


def tell_and_refuse(tell) -> None:
    tell("first")
    refuse()


def die_until(path: str, tell) -> str:
    """Note each try in the folder; die at all but the second."""
    tries = len(os.listdir(path))
    open(os.path.join(path, str(tries)), "w").close()
    tell("tried")
    time.sleep(0.3)  # what was told has time to leave this process
    if tries != 1:
        die()
    return "the second time"


def unpicklable(_tell):
    return lambda: None
