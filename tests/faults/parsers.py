"""Everything that takes bytes from outside, as one function each, with good bodies to start from."""

import json
import random
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from service.api.desk import hand_desk
from service.app import create_app
from service.errors import BadInput
from service.intake.batch import read_batch
from service.intake.marks import Marks
from service.intake.strict_json import strict_json
from service.jobs.archive_zip import unzipped
from service.jobs.archived_columns import check_columns
from service.jobs.archived_trial import archived_trial
from service.jobs.verdicts import Batch
from service.settings import Limits, Settings
from service.trial.check_question import is_kept, names_of_body, names_of_kept
from service.trial.loss_question import loss_question
from service.trial.plan_question import checked_question
from service.trial.trial_document import checked_trial, trial_from_document
from tests.api.conftest import DOCUMENT
from tests.faults.mutations import mutated, mutated_zip

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
LIMITS = Limits()
METERS: tuple[dict[str, Any], ...] = (
    {"unit": "bars", "highest": 10}, {"unit": "percent"}, {"unit": "dBuV"}, {"unit": "dB"}, {"unit": "dBm"},
)  # fmt: skip
BOUNDARY = b"a-boundary"


@dataclass(frozen=True)
class Parser:
    """A function that reads bytes or refuses them, good bodies for it, and how these are spoilt."""

    name: str
    read: Callable[[bytes], object]
    seeds: tuple[bytes, ...]
    spoil: Callable[[bytes, random.Random], bytes] = mutated


def example(*patterns: str) -> tuple[bytes, ...]:
    """The examples of these names, in order."""
    return tuple(path.read_bytes() for pattern in patterns for path in sorted(EXAMPLES.glob(pattern)))


def _small(body: bytes) -> bytes:
    """A table of no more than 40 lines: more of the same finds nothing and costs time."""
    return b"".join(body.splitlines(keepends=True)[:40])


def table(media_type: str) -> Callable[[bytes], object]:
    """Reads a table by the meter that its bytes choose, so that every meter has its turn."""

    def read(body: bytes) -> object:
        trial = {"meter": METERS[len(body) % len(METERS)]}
        return read_batch(body, media_type, trial=trial, marks=Marks(), limits=LIMITS)

    return read


def json_batch(body: bytes) -> object:
    """A trial with its readings."""
    return read_batch(body, "application/json", trial=None, marks=Marks(), limits=LIMITS)


def trial(body: bytes) -> object:
    """A trial document."""
    found, faults = checked_trial(strict_json(body), limits=LIMITS)
    if faults:
        raise BadInput(faults)
    return found


def plan(body: bytes) -> object:
    """The question for a plan."""
    document = strict_json(body)
    question, faults = checked_question(document, limits=LIMITS)
    if faults:
        raise BadInput(faults)
    return question, trial_from_document(document.get("trial", {}), limits=LIMITS)


def design_check(body: bytes) -> object:
    """The question of a design check."""
    content = strict_json(body)
    if is_kept(content):
        return names_of_kept(content)
    named = names_of_body(content if isinstance(content, dict) else {})
    beside = ("baseline", "candidates", "samples")
    batch = read_batch(body, "application/json", trial=None, marks=Marks(), limits=LIMITS, beside=beside)
    return named, batch


def archive(body: bytes) -> object:
    """The archive of a trial, with all that a replay looks at before it judges."""
    found = archived_trial(unzipped(body, most_bytes=LIMITS.archive_bytes))
    for batch in found.batches:
        check_columns(batch.columns, LIMITS)
    return found.material()


class ReadingDesk:
    """A desk that reads each batch and judges none."""

    def document(self, batch: Batch) -> dict[str, Any]:
        """A document, whatever the readings."""
        marks = Marks(nothing_found=batch.nothing_found, not_scanned=batch.not_scanned)
        read_batch(batch.body, batch.media_type, trial=batch.trial, marks=marks, limits=LIMITS)
        return DOCUMENT


def form() -> Callable[[bytes], object]:
    """Sends a multipart form to the application. Raises AssertionError for an answer that must not be."""
    app = create_app(Settings(database="sqlite://"))
    hand_desk(app, ReadingDesk())
    client = app.test_client()
    media_type = f"multipart/form-data; boundary={BOUNDARY.decode()}"

    def read(body: bytes) -> object:
        answer = client.post("/v1/verdicts", data=body, content_type=media_type)
        assert answer.status_code < 500, answer.get_data()
        if answer.status_code >= 400:
            raise BadInput([])
        return answer.json

    return read


def multipart(readings: bytes, document: bytes) -> bytes:
    """A form with a file of readings and a trial."""
    parts = [
        b'Content-Disposition: form-data; name="readings"; filename="r.csv"\r\nContent-Type: text/csv\r\n\r\n'
        + readings,
        b'Content-Disposition: form-data; name="trial"\r\n\r\n' + document,
    ]
    whole = b"".join(b"--%s\r\n%s\r\n" % (BOUNDARY, part) for part in parts)
    return whole + b"--" + BOUNDARY + b"--\r\n"


def parsers(archives: tuple[bytes, ...] = ()) -> tuple[Parser, ...]:
    """Every parser; that of archives only where there is one to start from."""
    tables = tuple(map(_small, example("*.csv")))
    trials = tuple(
        json.dumps(json.loads(body)["trial"]).encode()
        for body in example("*-request.json")
        if b'"trial": {' in body
    )
    tabs = tuple(body.replace(b";", b"\t").replace(b",", b"\t") for body in tables)
    return (
        Parser("json", json_batch, example("verdict-request.json")),
        Parser("ndjson", table("application/x-ndjson"), tuple(map(_small, example("*.ndjson")))),
        Parser("csv", table("text/csv"), tables),
        Parser("tsv", table("text/tab-separated-values"), tabs),
        Parser("xlsx", table(XLSX), example("*.xlsx"), mutated_zip),
        Parser("trial", trial, (*trials, *example("demo-trial.json"))),
        Parser("plan", plan, example("plan-request.json")),
        Parser("design-check", design_check, example("design-check*request.json")),
        Parser(
            "conductor-loss",
            lambda body: loss_question(strict_json(body)),
            example("conductor-loss-request.json"),
        ),
        Parser("form", form(), tuple(multipart(body, b'{"meter": {"unit": "bars"}}') for body in tables)),
        *([Parser("archive", archive, archives, mutated_zip)] if archives else []),
    )
