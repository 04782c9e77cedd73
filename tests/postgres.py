"""A PostgreSQL server of the tests' own: its own folder, reached through a socket there, commits synced."""

import os
import shutil
import subprocess
import tempfile
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote

OWNER = "postgres"
OPTIONS = "-c listen_addresses='' -c fsync=on -c unix_socket_directories="


def postgresql_program(name: str) -> str:
    """The path of one of PostgreSQL's programs. Raises FileNotFoundError where none is installed."""
    folders = sorted(Path("/usr/lib/postgresql").glob("*/bin"), key=lambda folder: int(folder.parent.name))
    for folder in reversed(folders):
        if (folder / name).is_file():
            return str(folder / name)
    found = shutil.which(name)
    if found is None:
        raise FileNotFoundError(f"{name} is missing: install PostgreSQL (Debian: postgresql).")
    return found


@dataclass(frozen=True)
class PostgresServer:
    """A server in a folder; as root its programs run as the user postgres, who alone may run it."""

    folder: Path

    @classmethod
    def make(cls) -> "PostgresServer":
        """A new server, running. Close it in the end."""
        folder = Path(tempfile.mkdtemp(prefix="assay-pg-"))
        if os.geteuid() == 0:
            shutil.chown(folder, OWNER, OWNER)
        server = cls(folder)
        server._run(
            "initdb", "-U", OWNER, "-A", "trust", "-E", "UTF8", "--locale=C.UTF-8", "-N", "-D", server.data
        )
        server.start()
        return server

    @property
    def data(self) -> str:
        return str(self.folder / "data")

    def start(self) -> None:
        """Start it, or start it again, and wait until it answers."""
        self._run("pg_ctl", "-D", self.data, "-l", str(self.folder / "log"), "-w", "start",
                  "-o", f"{OPTIONS}{self.folder}")  # fmt: skip

    def crash(self) -> None:
        """End it at once, as a loss of power would: nothing is written any more."""
        self._run("pg_ctl", "-D", self.data, "-m", "immediate", "-w", "stop")

    def close(self) -> None:
        """End it and take its folder away."""
        self.crash()
        shutil.rmtree(self.folder)

    def new_database(self, name: str) -> str:
        """The SQLAlchemy URL of an empty database of its own: a schema, which is made and removed quickly."""
        self.do(f"CREATE SCHEMA {name}")
        host, options = quote(str(self.folder), safe=""), quote(f"-csearch_path={name}", safe="")
        return f"postgresql+psycopg://{OWNER}@/postgres?host={host}&options={options}"

    def do(self, statement: str) -> None:
        """Let the server carry out a statement."""
        self._run("psql", "-v", "ON_ERROR_STOP=1", "-h", str(self.folder), "-U", OWNER, "-c", statement)

    def _run(self, program: str, *arguments: str) -> None:
        as_owner = ["runuser", "-u", OWNER, "--"] if os.geteuid() == 0 else []
        command = [*as_owner, postgresql_program(program), *arguments]
        with (self.folder / "programs.log").open("ab") as log:
            subprocess.run(command, cwd=self.folder, check=True, stdout=log, stderr=log)
