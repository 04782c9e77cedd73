"""`aerial-assay serve`."""

import signal
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from service.settings import Settings

EXAMPLE = """\b
Example:
  aerial-assay serve --port 8080"""


@click.command(epilog=EXAMPLE)
@click.option("--host", metavar="ADDRESS", help="A loopback address; 127.0.0.1 by default.")
@click.option("--port", metavar="NUMBER", type=click.IntRange(0, 65535), help="8080 by default; 0: any.")
@click.option("--workers", metavar="COUNT", type=click.IntRange(1, 256), help="One a core by default.")
@click.pass_obj
def serve(
    create_app: "Callable[[Settings], Any]", *, host: str | None, port: int | None, workers: int | None
) -> None:
    """Answer over HTTP until interrupted."""
    import sys

    from service.operations.log_lines import log_to
    from service.operations.problem_server import problem_server

    settings = _settings(host, port, workers)
    log_to(sys.stderr)
    application = create_app(settings)
    signal.signal(signal.SIGTERM, _leave)
    try:
        application.runner.start()
        server = _bound(lambda: problem_server(application, settings), settings)
        click.echo(f"Listening on http://{_in_url(settings.host)}:{server.effective_port}")
        server.run()
    finally:
        application.runner.close()


def _settings(host: str | None, port: int | None, workers: int | None) -> "Settings":
    import os
    from dataclasses import replace

    from service.settings import SettingError, settings_from

    try:
        settings = settings_from(os.environ)
    except SettingError as error:
        raise click.ClickException(str(error)) from error
    return replace(
        settings,
        host=_loopback(settings.host if host is None else host),
        port=settings.port if port is None else port,
        workers=workers or settings.workers or os.cpu_count() or 1,
    )


def _loopback(host: str) -> str:
    """The address, if only this machine can reach it. Raises ClickException otherwise."""
    import ipaddress

    try:
        address = ipaddress.ip_address("127.0.0.1" if host == "localhost" else host.strip("[]"))
    except ValueError:
        raise click.ClickException(f"{host!r} is not an IP address. Give 127.0.0.1 or ::1.") from None
    if not address.is_loopback:
        raise click.ClickException(
            f"{host} can be reached from other machines, and nobody is asked for a token yet. "
            "Give a loopback address: 127.0.0.1 or ::1."
        )
    return str(address)


def _bound(make_server: Callable[[], Any], settings: "Settings") -> Any:
    try:
        return make_server()
    except OSError as error:
        at = f"{settings.host} port {settings.port}"
        raise click.ClickException(f"Cannot listen on {at}: {error.strerror or error}.") from error


def _in_url(host: str) -> str:
    return f"[{host}]" if ":" in host else host


def _leave(_signal: int, _frame: object) -> None:
    raise SystemExit(0)
