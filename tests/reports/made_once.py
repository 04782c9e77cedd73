"""Reports made once for all test processes: making them is most of what these tests cost."""

import json
import uuid
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

import reports
from reports.document import Document
from reports.wording import complete
from tests.reports.pdf_text import pages_of


class MadeOnce:
    """Files in a folder that all test processes of a run share; without one each process makes its own."""

    def __init__(self) -> None:
        self.folder: Path | None = None
        self._here: dict[str, bytes] = {}

    def __call__(self, *names: str, make: Callable[[], bytes]) -> bytes:
        """What is called so, made by the first that asks for it."""
        name = sha256("\n".join(names).encode()).hexdigest()
        if name not in self._here:
            self._here[name] = make() if self.folder is None else _shared(self.folder / name, make)
        return self._here[name]


def _shared(kept: Path, make: Callable[[], bytes]) -> bytes:
    if not kept.exists():
        beside = kept.with_suffix(f".{uuid.uuid4().hex}")
        beside.write_bytes(make())
        beside.rename(kept)
    return kept.read_bytes()


made_once = MadeOnce()


def report(document: Document, form: str) -> bytes:
    """The report on a document, in the default locale."""
    return made_once(
        "report", form, json.dumps(complete(document)), make=lambda: reports.render(document, form)
    )


def pages(document: Document) -> list[str]:
    """The text of each page of its PDF."""
    pdf = report(document, "pdf")
    read = made_once("pages", sha256(pdf).hexdigest(), make=lambda: json.dumps(pages_of(pdf)).encode())
    return json.loads(read)
