"""The archive of a small kept trial, and archives that somebody has tampered with."""

import io
import zipfile

from service.jobs.archive_desk import ArchiveDesk
from service.jobs.archive_zip import DIGESTS, zipped
from service.jobs.kept_batches import NewBatch
from service.jobs.kept_readings import KeptReadings, Place
from service.jobs.replay import ArchiveReplay
from service.jobs.runners import Here
from service.settings import Limits
from tests.jobs.kept import OWNER, Server, table

LIMITS = Limits()


class Archivist:
    """A server with one trial of several batches, one of them withdrawn and one a correction."""

    def __init__(self, url: str, references):
        self.server = Server(url, Here())
        self.references = references
        shared = {"limits": Limits(), "references": references}
        self.desk = ArchiveDesk(self.server.database, self.server.desk, Here(), **shared)
        self.trial = self.server.kept_trial(table(range(1, 4)))
        readings, place = KeptReadings(self.server.database, Here(), Limits()), Place(OWNER, self.trial)
        readings.add(place, NewBatch(table(range(4, 7)), "text/csv"))
        readings.add(place, NewBatch(table(range(7, 8)), "text/csv"))
        readings.withdraw(place, 3, "mast turned")
        corrected = b"element,round,channel,value\nwire,2,Quay,19.4\n"
        readings.add(place, NewBatch(corrected, "text/csv", corrects="misread"))
        self.server.trials.change(OWNER, self.trial, {"margin": 0.8, "reason": "asked for finer"})

    def archive(self) -> bytes:
        return self.desk.archive(OWNER, self.trial)

    def replay(self, body: bytes, trial: str | None = None, limits: Limits = LIMITS) -> dict:
        replay = ArchiveReplay(body, trial or self.trial, limits, self.references)
        return replay(lambda _stage: None)


def members_of(body: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(body)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def forged(body: bytes, **changed: bytes | None) -> bytes:
    """The archive with members changed or left out, its digests right again; "_" in a name stands for "."."""
    members = {name: content for name, content in members_of(body).items() if name != DIGESTS}
    for name, content in changed.items():
        place = name.replace("__", "/").replace("_", ".")
        if content is None:
            del members[place]
        else:
            members[place] = content
    return zipped(members)


def raw_zip(entries: list[tuple[str, bytes]]) -> bytes:
    """A zip with these members whatever they are called, and no digests."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in entries:
            archive.writestr(name, content)
    return file.getvalue()
