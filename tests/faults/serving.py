"""Servers that start quickly, because what they are forked from has all modules loaded already.

python -m tests.faults.serving reads one JSON object a line (database, port, tokens) and answers with the
process id of a server of the application: the routes, the storage and the HTTP server are those of
`aerial-assay serve`; only the worker processes are missing, batches are read in the server itself. The
application, its database and its socket are made after the fork: nothing of an earlier server is left.
"""

import json
import os
import signal
import sys
import traceback

import alembic.command  # noqa: F401 (loaded before the fork)
import psycopg  # noqa: F401 (loaded before the fork)
import sqlalchemy.dialects.postgresql
import sqlalchemy.dialects.sqlite  # noqa: F401 (loaded before the fork)

import service.intake.batch
import service.storage
import service.trial.kept_readings
import service.trial.reading_columns  # noqa: F401 (loaded before the fork)
from service.app import create_app
from service.operations.log_lines import log_to
from service.operations.problem_server import problem_server
from service.settings import Settings


def serve(database: str, port: int, tokens: str = "where needed") -> None:
    """Answer until killed."""
    log_to(sys.stderr, requests=False)
    settings = Settings(database=database, port=port, tokens=tokens)
    problem_server(create_app(settings), settings).run()


def main() -> None:
    """Fork a server for each line; those that end leave no trace."""
    signal.signal(signal.SIGCHLD, signal.SIG_IGN)
    for line in sys.stdin:
        process = os.fork()
        if process == 0:
            signal.signal(signal.SIGCHLD, signal.SIG_DFL)
            try:
                serve(**json.loads(line))
            finally:
                traceback.print_exc()
                os._exit(1)
        print(process, flush=True)


if __name__ == "__main__":
    main()
