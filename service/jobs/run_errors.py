"""What is kept of an error that a job came to, for whoever asks after the job later."""

import logging
import secrets
from typing import Any

from service.errors import BadInput, ServiceError
from service.jobs.failures import JobError

LOG = logging.getLogger("aerial_assay")


def kept_problem(error: ServiceError) -> dict[str, Any]:
    """Status, detail and faults of the error; one nobody foresaw is logged, and known by an id."""
    if isinstance(error, JobError):
        problem_id = secrets.token_hex(8)
        seen = {"problem_id": problem_id, "kind": error.failure.kind, "frames": error.failure.frames}
        LOG.error("a fault of our own in an analysis", extra=seen)
        return {"status": error.status, "detail": error.detail, "id": problem_id}
    if isinstance(error, BadInput):
        faults = [fault.document() for fault in error.faults]
        return {"status": error.status, "detail": error.detail, "errors": faults, "count": error.count}
    return {"status": error.status, "detail": error.detail}
