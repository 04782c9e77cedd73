"""The WSGI server, with its own protocol faults told as problems too.

waitress answers a malformed request line, headers or a body over its limits by itself, before the
application sees them, as plain text; here they leave as application/problem+json like all others.
"""

import socket
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Protocol

from waitress.server import create_server
from waitress.task import ErrorTask

from service.operations.slow_clients import CountedChannel, close_slow_ones
from service.operations.strict_parser import StrictParser
from service.settings import Settings

if TYPE_CHECKING:
    from _typeshed.wsgi import WSGIApplication

SLOW_CLIENTS = 1000
HEADER_BYTES = 32 * 1024
IDLE_SECONDS = 30
UNNAMED = "no-host.invalid"
"""Stands for the host that a request does not name (RFC 2606 section 2); it is none of ours."""
ALWAYS_ANSWERED = 4  # threads beyond those that may wait for a worker, for health and errors


class Application(Protocol):
    """The application as far as the server needs it."""

    @property
    def wsgi_app(self) -> "WSGIApplication":
        """What answers requests."""

    def protocol_problem(self, status: int, detail: str) -> tuple[list[tuple[str, str]], bytes]:
        """Headers and body of a problem found before the application."""


def problem_server(application: Application, settings: Settings) -> Any:
    """A server bound to the settings' address, to be run. Raises OSError where that cannot be had.

    A body beyond the limit is read up to twice the limit, so that the application can answer it in peace;
    beyond that the server answers at once and closes.
    """
    server = create_server(
        application.wsgi_app,
        sockets=[_bound_socket(settings)],
        threads=settings.workers + settings.limits.waiting + ALWAYS_ANSWERED,
        connection_limit=SLOW_CLIENTS,
        asyncore_use_poll=True,
        channel_timeout=IDLE_SECONDS,
        cleanup_interval=IDLE_SECONDS,
        server_name=UNNAMED,
        max_request_header_size=HEADER_BYTES,
        max_request_body_size=2 * settings.limits.body_bytes,
        ident=None,
    )
    server.channel_class = _channel_of(application, _limits_told(settings))
    close_slow_ones(server)
    return server


def _limits_told(settings: Settings) -> dict[int, str]:
    """What is said of a limit that the server itself found passed: the limit and the remedy."""
    return {
        413: f"The body passes a limit: at most {settings.limits.body_bytes} bytes in all. "
        "Send fewer rounds or fewer channels at a time.",
        431: f"The header fields pass a limit: at most {HEADER_BYTES} bytes. Send shorter ones.",
    }


def _bound_socket(settings: Settings) -> socket.socket:
    """Bound here and not by waitress, which leaves its socket open where that fails."""
    family = socket.AF_INET6 if ":" in settings.host else socket.AF_INET
    return socket.create_server((settings.host, settings.port), family=family)


def _channel_of(application: Application, told: Mapping[int, str]) -> type[CountedChannel]:
    class ProblemTask(ErrorTask):  # type: ignore[misc] # the library has no types
        def execute(self) -> None:
            fault = self.request.error
            detail = told.get(fault.code, f"{fault.body}")
            headers, body = application.protocol_problem(fault.code, detail)
            self.status = f"{fault.code} {fault.reason}"
            self.response_headers.extend(headers)
            self.set_close_on_finish()
            self.content_length = len(body)
            self.write(body)

    class ProblemChannel(CountedChannel):
        error_task_class = ProblemTask
        parser_class = StrictParser

    return ProblemChannel
