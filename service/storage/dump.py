"""The whole database as one zip that either kind of database takes back.

`manifest.json` names the format, the revision of the tables and, for each table, its columns, the number of
its rows and the SHA-256 of its member; `tables/NAME.ndjson` has one row a line as a JSON array, bytes as
base64 text.
"""

import base64
import hashlib
import json
import zipfile
from collections.abc import Mapping
from typing import IO, Any

from sqlalchemy import Connection, LargeBinary, Table, delete, func, insert, select
from sqlalchemy.engine import Row

from service.errors import ServiceError
from service.storage.clock import now_text
from service.storage.database import Database
from service.storage.migrating import HEAD
from service.storage.snapshot import Damaged
from service.storage.tables import METADATA

FORMAT = "aerial-assay-backup/1"
MANIFEST = "manifest.json"
MANIFEST_BYTES = 2**20
ROWS_AT_ONCE = 50
TABLES: Mapping[str, Table] = {table.name: table for table in METADATA.sorted_tables}
"""Every table, each after those that it refers to."""


class NotEmpty(ServiceError):
    """The database that is to take a backup holds something."""


def dump(connection: Connection, file: IO[bytes]) -> dict[str, int]:
    """Write all tables to the file; the number of rows of each."""
    accounts = {}
    with zipfile.ZipFile(file, "w", compression=zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        for name, table in TABLES.items():
            accounts[name] = _dump_table(connection, table, archive)
        manifest = {"format": FORMAT, "revision": HEAD, "made_at": now_text(), "tables": accounts}
        archive.writestr(MANIFEST, json.dumps(manifest, indent=1))
    return {name: int(account["rows"]) for name, account in accounts.items()}


def load(database: Database, file: IO[bytes], *, overwrite: bool) -> dict[str, int]:
    """Put back what `dump` wrote, all or nothing; the number of rows of each table.

    Everything is checked before anything is written. Raises Damaged for a file that is not a whole backup of
    this revision, NotEmpty where the database holds rows and `overwrite` is false.
    """
    try:
        with zipfile.ZipFile(file) as archive:
            accounts = _checked(archive)
            with database.begin() as connection:
                _make_room(connection, overwrite=overwrite)
                _load_tables(connection, archive)
                _count_again(connection, accounts)
    except (zipfile.BadZipFile, EOFError, UnicodeDecodeError, KeyError, ValueError, TypeError) as error:
        raise Damaged(f"This is no whole backup: {type(error).__name__}. Take another copy of it.") from error
    return {name: int(account["rows"]) for name, account in accounts.items()}


def _member(name: str) -> str:
    return f"tables/{name}.ndjson"


def _dump_table(connection: Connection, table: Table, archive: zipfile.ZipFile) -> dict[str, Any]:
    digest, count = hashlib.sha256(), 0
    rows = connection.execution_options(yield_per=ROWS_AT_ONCE).execute(select(table))
    with archive.open(_member(table.name), "w", force_zip64=True) as member:
        for row in rows:
            line = _line(row)
            member.write(line)
            digest.update(line)
            count += 1
    return {"columns": table.columns.keys(), "rows": count, "sha256": digest.hexdigest()}


def _line(row: Row[Any]) -> bytes:
    values = [base64.b64encode(value).decode() if isinstance(value, bytes) else value for value in row]
    return json.dumps(values, separators=(",", ":")).encode() + b"\n"


def _checked(archive: zipfile.ZipFile) -> Mapping[str, Mapping[str, Any]]:
    """The accounts of the tables, once every member is known to be what was written."""
    names = archive.namelist()
    if sorted(names) != sorted([MANIFEST, *map(_member, TABLES)]):
        raise Damaged("This is no backup of this program: it has other parts than one.")
    if archive.getinfo(MANIFEST).file_size > MANIFEST_BYTES:
        raise Damaged("This is no backup of this program: its manifest is too long.")
    manifest = json.loads(archive.read(MANIFEST))
    if (manifest["format"], manifest["revision"]) != (FORMAT, HEAD):
        raise Damaged(
            f"This is a {manifest['format']} of the tables {manifest['revision']}, and {FORMAT} of {HEAD} is "
            "wanted. Restore it by the version of this program that made it, then start this one on it."
        )
    for name, table in TABLES.items():
        _check_member(archive, table, manifest["tables"][name])
    accounts: Mapping[str, Mapping[str, Any]] = manifest["tables"]
    return accounts


def _check_member(archive: zipfile.ZipFile, table: Table, account: Mapping[str, Any]) -> None:
    digest, count = hashlib.sha256(), 0
    with archive.open(_member(table.name)) as member:
        for line in member:
            digest.update(line)
            count += 1
    written = (account["columns"], account["rows"], account["sha256"])
    if written != (table.columns.keys(), count, digest.hexdigest()):
        raise Damaged(f"The backup is damaged: its table {table.name} is not what was written. Take another.")


def _make_room(connection: Connection, *, overwrite: bool) -> None:
    for table in reversed(METADATA.sorted_tables):
        if overwrite:
            connection.execute(delete(table))
        elif connection.execute(select(table).limit(1)).first() is not None:
            raise NotEmpty("The database is not empty. Name another, or lose what it holds by --overwrite.")


def _load_tables(connection: Connection, archive: zipfile.ZipFile) -> None:
    for table in TABLES.values():
        _load_table(connection, table, archive)


def _load_table(connection: Connection, table: Table, archive: zipfile.ZipFile) -> None:
    rows: list[dict[str, Any]] = []
    with archive.open(_member(table.name)) as member:
        for line in member:
            rows.append(_values(table, json.loads(line)))
            if len(rows) == ROWS_AT_ONCE:
                connection.execute(insert(table), rows)
                rows.clear()
    if rows:
        connection.execute(insert(table), rows)


def _values(table: Table, line: list[Any]) -> dict[str, Any]:
    named = dict(zip(table.columns.keys(), line, strict=True))
    for name, value in named.items():
        if value is not None and isinstance(table.c[name].type, LargeBinary):
            named[name] = base64.b64decode(value, validate=True)
    return named


def _count_again(connection: Connection, accounts: Mapping[str, Mapping[str, Any]]) -> None:
    for name, table in TABLES.items():
        count = connection.execute(select(func.count()).select_from(table)).scalar_one()
        if count != accounts[name]["rows"]:
            raise Damaged(f"The table {name} took {count} rows of {accounts[name]['rows']}; none were kept.")
