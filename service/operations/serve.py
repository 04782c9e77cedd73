"""`aerial-assay serve`."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import click

from service.operations.environment import any_valid_token, present_settings, told_errors

if TYPE_CHECKING:
    from service.settings import Settings

EXAMPLE = """\b
Example:
  aerial-assay serve --port 8080"""


@click.command(epilog=EXAMPLE)
@click.option("--host", metavar="ADDRESS", help="127.0.0.1 by default; any that others reach needs tokens.")
@click.option("--port", metavar="NUMBER", type=click.IntRange(0, 65535), help="8080 by default; 0: any.")
@click.option("--workers", metavar="COUNT", type=click.IntRange(1, 256), help="One a core by default.")
@click.pass_obj
def serve(
    create_app: "Callable[[Settings], Any]", *, host: str | None, port: int | None, workers: int | None
) -> None:
    """Answer over HTTP until interrupted; then finish the requests under way."""
    import sys

    from service.operations.freed_memory import give_freed_memory_back
    from service.operations.graceful_stop import StopSignals, serve_until
    from service.operations.log_lines import log_to
    from service.operations.problem_server import problem_server

    settings = _settings(host, port, workers)
    _refuse_without_token(settings)
    log_to(sys.stderr, requests=True)
    give_freed_memory_back()
    signals = StopSignals()
    signals.watch()
    application = create_app(settings)
    try:
        with told_errors():
            application.start()
        server = _bound(lambda: problem_server(application, settings), settings)
        signals.wake(server)
        click.echo(f"Listening on http://{_in_url(settings.host)}:{server.effective_port}")
        serve_until(server, signals.asked, seconds=settings.stop_seconds)
    finally:
        application.close()


def _settings(host: str | None, port: int | None, workers: int | None) -> "Settings":
    import os
    from dataclasses import replace

    settings = present_settings()
    return replace(
        settings,
        host=_address(settings.host if host is None else host),
        port=settings.port if port is None else port,
        workers=workers or settings.workers or os.cpu_count() or 1,
    )


def _address(host: str) -> str:
    """The IP address. Raises ClickException for anything else."""
    import ipaddress

    try:
        return str(ipaddress.ip_address("127.0.0.1" if host == "localhost" else host.strip("[]")))
    except ValueError:
        raise click.ClickException(f"{host!r} is not an IP address. Give 127.0.0.1 or ::1.") from None


def _refuse_without_token(settings: "Settings") -> None:
    """Raise ClickException where everybody has to show a token and nobody has one."""
    if not settings.tokens_required() or any_valid_token(settings):
        return
    from service.settings import is_loopback

    reached = "can be reached from other machines" if not is_loopback(settings.host) else "wants tokens"
    raise click.ClickException(
        f"{settings.host} {reached}, and no valid token is there. Add one first "
        "(aerial-assay token add NAME --may write), or give a loopback address: 127.0.0.1 or ::1."
    )


def _bound(make_server: Callable[[], Any], settings: "Settings") -> Any:
    try:
        return make_server()
    except OSError as error:
        at = f"{settings.host} port {settings.port}"
        raise click.ClickException(f"Cannot listen on {at}: {error.strerror or error}.") from error


def _in_url(host: str) -> str:
    return f"[{host}]" if ":" in host else host
