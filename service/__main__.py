"""The command `aerial-assay`: hands the application to the commands and turns what they raise into a status.

Only click is imported when this is loaded, so that `--help` answers at once.
"""

import os
import sys
from typing import TYPE_CHECKING, NoReturn

import click

from service.client.check import check
from service.client.commands import demo, verdict
from service.client.history import history
from service.client.kept_commands import send, trial
from service.client.plan import plan
from service.client.replay import replay
from service.operations.backup import backup, restore
from service.operations.serve import serve
from service.operations.settings import settings as settings_command
from service.operations.token import token

if TYPE_CHECKING:
    from service.app import Application
    from service.settings import Settings

EXIT_STATUS = 3
EXAMPLE = """\b
Example:
  aerial-assay verdict readings.csv --unit bars --highest 10"""


@click.group(epilog=EXAMPLE)
def command() -> None:
    """Says which receive-antenna element is better, by how much, and whether the trial can say it at all."""


for part in (
    demo,
    verdict,
    plan,
    check,
    history,
    replay,
    trial,
    send,
    serve,
    token,
    settings_command,
    backup,
    restore,
):
    command.add_command(part)


def create_app(settings: "Settings | None" = None, *, in_parallel: bool = False) -> "Application":
    """The application; without settings those of the environment hold, and it works in this process.

    in_parallel: it has worker processes all the same, as many as the environment says or there are cores.
    """
    from dataclasses import replace

    from service import app
    from service.operations.log_lines import log_to
    from service.settings import SettingError, Settings, settings_from

    if settings is None:
        log_to(sys.stderr)
        try:
            own = Settings()  # nobody else asks an application in this process, whatever a server is told
            given = settings_from(os.environ)
            workers = (given.workers or os.cpu_count() or 1) if in_parallel else 0
            settings = replace(given, workers=workers, host=own.host, hosts=own.hosts, tokens=own.tokens)
            if not in_parallel:
                settings = replace(settings, compute=own.compute)
        except SettingError as error:
            raise click.ClickException(str(error)) from error
    return app.create_app(settings)


def main() -> NoReturn:
    """Run the command line; the status is 3 where a command could not do what was asked."""
    try:
        status = command.main(prog_name="aerial-assay", obj=create_app, standalone_mode=False)
    except click.ClickException as error:
        error.show()
        status = EXIT_STATUS
    except click.Abort:
        status = 130
    except Exception as error:  # noqa: BLE001 (the command edge: no trace leaves it)
        from service.jobs.failures import failure_of

        failure = failure_of(error)
        click.echo(f"A fault of this program: {failure.kind} at {failure.frames[-1]}.", err=True)
        status = EXIT_STATUS
    sys.exit(status)


if __name__ == "__main__":
    main()
