"""The log: one JSON object a line, so that no text in it can pretend to be another line."""

import json
import logging
from datetime import UTC, datetime
from typing import IO

EXTRA = (
    "request_id",
    "problem_id",
    "owner",
    "method",
    "path",
    "route",
    "status",
    "milliseconds",
    "kind",
    "frames",
)
REQUESTS = "aerial_assay.requests"


class JsonLines(logging.Formatter):
    """A record as one line of JSON: when, how grave, who says what, and what stands beside it."""

    def format(self, record: logging.LogRecord) -> str:
        """The record as a line."""
        line = {
            "at": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname.lower(),
            "from": record.name,
            "message": record.getMessage(),
        }
        beside = {name: getattr(record, name) for name in EXTRA if hasattr(record, name)}
        return json.dumps(line | beside, ensure_ascii=True)


def log_to(stream: IO[str], *, requests: bool = False) -> None:
    """Send everything from warnings upwards to the stream, in this form and no other; `requests`: each too.

    That a request waits a moment for a thread, which the server warns of, is no fault and stays out.
    """
    handler = logging.StreamHandler(stream)
    handler.setFormatter(JsonLines())
    root = logging.getLogger()
    root.handlers[:] = [handler]
    root.setLevel(logging.WARNING)
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)
    logging.getLogger(REQUESTS).setLevel(logging.INFO if requests else logging.WARNING)
