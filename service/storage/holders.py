"""Who holds a piece of work that is written down as running, and whether they still live.

A program that was killed cannot take back what it wrote; whoever comes next asks here, and need not wait for
a deadline where it can be told that the holder is gone.
"""

import os
import secrets
import socket
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path

from service.storage.clock import now, time_of

INSTANCE = secrets.token_hex(8)
"""Tells this process from an earlier one of the same number."""


@dataclass(frozen=True)
class Holder:
    """One piece of work in one process."""

    host: str = field(default_factory=socket.gethostname)
    process: int = field(default_factory=os.getpid)
    instance: str = INSTANCE
    work: str = field(default_factory=lambda: secrets.token_hex(8))

    def __str__(self) -> str:
        return f"{self.host[:80]}/{self.process}/{self.instance}/{self.work}"


def is_gone(holder: str, since: str, *, at_most: timedelta) -> bool:
    """Whether a holder is no more, or has held for longer than any work may take.

    Of another machine only the time can tell: a `since` that lies further ahead than any work takes was
    written before the clock was set back. Who lives on this machine is asked whatever the clock says.
    """
    age = now() - time_of(since)
    if age > at_most:
        return True
    host, process, instance, _ = holder.rsplit("/", 3)
    if host != socket.gethostname()[:80]:
        return -age > at_most
    if int(process) == os.getpid():
        return instance != INSTANCE
    return not _lives(int(process))


def _lives(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except PermissionError:
        return True
    return not _only_unmissed(process)


def _only_unmissed(process: int) -> bool:
    """Whether a process has ended and is listed only because nobody asked how (a zombie), where /proc tells.

    In a container whose first process asks for none, those that were killed stay listed for good.
    """
    try:
        status = Path(f"/proc/{process}/stat").read_text(encoding="ascii", errors="replace")
    except OSError:
        return False
    return status.rpartition(")")[2].split()[:1] == ["Z"]
