"""Which file of readings stands beside which trial, and the document that is made of them."""

import hashlib
import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from service.jobs.archived_trial import machine_here
from service.jobs.verdicts import Batch

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
KEPT = Path(__file__).parent
MADE_ON = KEPT / "made_on.sha256"
"""The digest of system and processor the documents were made on: these may move the last digit."""
MEDIA_TYPES = {
    ".json": "application/json",
    ".csv": "text/csv",
    ".ndjson": "application/x-ndjson",
    ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}
DEMO = json.loads((EXAMPLES / "demo-trial.json").read_text(encoding="utf-8"))
LEVELS = {"meter": {"unit": "dBuV"}}


@dataclass(frozen=True)
class Case:
    """A file of readings and, where it does not hold it itself, its trial."""

    file: str
    trial: dict[str, Any] | None = None

    @property
    def batch(self) -> Batch:
        path = EXAMPLES / self.file
        return Batch(path.read_bytes(), MEDIA_TYPES[path.suffix], self.trial)

    @property
    def document(self) -> Path:
        """Where the document of this case is kept."""
        return KEPT / f"{Path(self.file).name}.document.json"


CASES = (
    Case("verdict-request.json"),
    Case("demo-readings.csv", DEMO),
    Case("demo-one-scan.csv", DEMO),
    Case("wide.csv", LEVELS),
    Case("semicolon.csv", LEVELS),
    Case("spreadsheet.csv", LEVELS),
    Case("readings.ndjson", LEVELS),
    Case("readings.xlsx", LEVELS),
    Case("design-check.csv", LEVELS),
)


def text_of(document: dict[str, Any]) -> str:
    """A document as it is kept: one value a line, so that a change can be read."""
    return json.dumps(document, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def processor_digest() -> str:
    """The digest of the system and processor here."""
    return hashlib.sha256(json.dumps(machine_here()).encode()).hexdigest()
