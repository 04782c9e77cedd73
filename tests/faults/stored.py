"""What the database holds, read past the service and held against the ledger of those who wrote."""

import hashlib
import io
import zlib
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np
from sqlalchemy import Engine, NullPool, String, bindparam, create_engine, text

from tests.faults.writers import Ledger, Sent

BATCHES = text(
    "SELECT trials.id AS trial_id, trials.version, number, rows, received_at, body, body_sha256, columns, "
    "columns_sha256 FROM trials LEFT JOIN batches ON batches.trial_id = trials.id WHERE trials.id IN :trials"
).bindparams(bindparam("trials", expanding=True))
"""Versions and batches by one statement, which sees them at one moment while others write."""
FAULTS = ("lost", "half_stored", "stored_twice", "never_sent", "versions", "keys")
KEYS = text("SELECT key, state FROM idempotency_keys")


@dataclass
class Found:
    """What is wrong, each with its place; and how many batches were looked at."""

    looked_at: int = 0
    acknowledged: int = 0
    lost: list[str] = field(default_factory=list)
    half_stored: list[str] = field(default_factory=list)
    stored_twice: list[str] = field(default_factory=list)
    never_sent: list[str] = field(default_factory=list)
    versions: list[str] = field(default_factory=list)
    keys: list[str] = field(default_factory=list)

    def wrong(self) -> list[str]:
        """Everything that is wrong."""
        return [place for name in FAULTS for place in getattr(self, name)]

    def add(self, other: "Found") -> None:
        """Add what another look found."""
        self.looked_at += other.looked_at
        self.acknowledged += other.acknowledged
        for name in FAULTS:
            getattr(self, name).extend(getattr(other, name))


class Store:
    """The tables behind the service."""

    def __init__(self, url: str):
        self._engine: Engine = create_engine(url, poolclass=NullPool)

    def close(self) -> None:
        """Close it."""
        self._engine.dispose()

    def compare(self, ledger: Ledger, paths: Iterable[str]) -> Found:
        """Hold the batches of some trials against the ledger, while the writers go on.

        What was acknowledged before the look must be there; what is there must have been sent before its end.
        """
        trials = [path.rsplit("/", 1)[1] for path in paths]
        with ledger.lock:
            acknowledged = {
                digest: answer
                for digest, answer in ledger.acknowledged.items()
                if ledger.sent[digest].trial.rsplit("/", 1)[1] in trials
            }
        with self._engine.connect() as connection:
            read = list(connection.execute(BATCHES, {"trials": trials}))
        with ledger.lock:
            sent = dict(ledger.sent)
        versions = {row.trial_id: row.version for row in read}
        rows = [row for row in read if row.number is not None]
        found = Found(looked_at=len(rows), acknowledged=len(acknowledged))
        _compare_rows(found, rows, sent)
        _compare_acknowledged(found, rows, acknowledged)
        _compare_versions(found, rows, versions)
        return found

    def unfinished_keys(self) -> list[str]:
        """Keys that are written down as running; none may be once all writers have had their answers."""
        with self._engine.connect() as connection:
            return [f"{key} is {state}" for key, state in connection.execute(KEYS) if state != "done"]

    def stored_before(self, digests: Iterable[str], moment: str) -> int:
        """How many of the batches were kept before the moment."""
        query = text(
            "SELECT count(*) FROM batches WHERE body_sha256 IN :digests AND received_at < :moment"
        ).bindparams(bindparam("digests", expanding=True, type_=String))
        with self._engine.connect() as connection:
            given = {"digests": list(digests), "moment": moment}
            return int(connection.execute(query, given).scalar_one())


def _compare_rows(found: Found, rows: list, sent: dict[str, Sent]) -> None:
    for row in rows:
        place = f"{row.trial_id} batch {row.number}"
        if row.body_sha256 not in sent:
            found.never_sent.append(place)
        elif not _whole(row, sent[row.body_sha256]):
            found.half_stored.append(place)
    counted = Counter(row.body_sha256 for row in rows)
    found.stored_twice += [f"{sent[digest].key}: {n} times" for digest, n in counted.items() if n > 1]


def _whole(row, sent: Sent) -> bool:
    """Whether body and columns are those that were sent, by their digests and by themselves."""
    body, columns = zlib.decompress(row.body), bytes(row.columns)
    with np.load(io.BytesIO(zlib.decompress(columns))) as kept:
        arrays = {name: kept[name] for name in kept.files}
    lengths = {len(values) for name, values in arrays.items() if not name.endswith(":values")}
    values = arrays["value:values"][arrays["value:codes"]]
    return (
        body == sent.body
        and hashlib.sha256(body).hexdigest() == row.body_sha256
        and hashlib.sha256(columns).hexdigest() == row.columns_sha256
        and lengths == {row.rows}
        and list(values) == sent.values
    )


def _compare_acknowledged(found: Found, rows: list, acknowledged: dict[str, dict[str, int]]) -> None:
    there = {(row.body_sha256, row.number): row.rows for row in rows}
    for digest, answer in acknowledged.items():
        if there.get((digest, answer["batch"])) != answer["rows"]:
            found.lost.append(f"batch {answer['batch']} with SHA-256 {digest}")


def _compare_versions(found: Found, rows: list, versions: dict[str, int]) -> None:
    """Each batch raises the version by one, and numbers are counted without a gap."""
    numbers: dict[str, list[int]] = {trial: [] for trial in versions}
    for row in rows:
        numbers[row.trial_id].append(row.number)
    for trial, version in versions.items():
        if sorted(numbers[trial]) != list(range(1, version)):
            found.versions.append(f"{trial} is at version {version} with batches {sorted(numbers[trial])}")
