"""What is kept of each request: an id that goes back with the answer, a line in the log, a count.

The line holds no token, body, query or address, and of the path only the rule that it matched.
"""

import logging
import time

from flask import Flask, Response, g, request

from service.api.access import owner
from service.api.metrics import metrics
from service.api.request_ids import HEADER, name_request

LOG = logging.getLogger("aerial_assay.requests")
METHODS = frozenset({"GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS"})


def record_requests(app: Flask) -> None:
    """Let the app keep a record of every request; to be called before other guards."""
    app.before_request(_begin)
    app.after_request(_end)


def _begin() -> None:
    g.began = time.perf_counter()
    name_request()


def _end(response: Response) -> Response:
    seconds = time.perf_counter() - g.began
    method = request.method if request.method in METHODS else "other"
    route = request.url_rule.rule if request.url_rule is not None else "none"
    response.headers[HEADER] = g.request_id
    metrics().answered(method, route, status=response.status_code, seconds=seconds)
    seen = {"method": method, "route": route, "status": response.status_code, "owner": owner()}
    spent = round(1000 * seconds, 1)
    LOG.info("answered", extra={"request_id": g.request_id, "milliseconds": spent, **seen})
    return response
