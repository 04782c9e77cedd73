"""Tokens: 256 random bits each, of which only the SHA-256 digest is kept."""

import hashlib
import hmac
import re
import secrets
from contextlib import suppress
from dataclasses import dataclass
from datetime import timedelta

from sqlalchemy import ColumnElement, RowMapping, and_, func, insert, or_, select, update

from service.errors import ServiceError
from service.storage.clock import now_text
from service.storage.database import Database
from service.storage.tables import TOKENS

FORM = re.compile(r"aa_[0-9a-f]{64}")
SEARCHED = (
    8  # hexadecimal digits of a digest that the index is searched by; the rest is compared in fixed time
)
NOTED_EVERY = timedelta(hours=1)


@dataclass(frozen=True)
class Token:
    """What is known of a token; the token itself is known to whoever holds it."""

    token: str
    owner: str
    name: str
    may: str
    created_at: str
    expires_at: str | None
    revoked_at: str | None
    last_used_at: str | None

    def state(self) -> str:
        """ "valid", "revoked" or "expired"."""
        if self.revoked_at is not None:
            return "revoked"
        return "expired" if self.expires_at is not None and self.expires_at <= now_text() else "valid"


class Tokens:
    """The tokens of a database."""

    def __init__(self, database: Database):
        self._database = database

    def add(self, name: str, *, owner: str, may: str, days: int) -> str | None:
        """A new token, told this once; None where a token of this name is valid already."""
        secret = "aa_" + secrets.token_hex(32)
        row = {
            "id": secrets.token_hex(16),
            "owner": owner,
            "name": name,
            "digest": _digest(secret),
            "may": may,
            "created_at": now_text(),
            "expires_at": now_text(plus=timedelta(days=days)),
        }
        with self._database.begin() as connection:
            taken = select(TOKENS.c.id).where(TOKENS.c.name == name, _valid())
            if connection.execute(taken).first() is not None:
                return None
            connection.execute(insert(TOKENS).values(row))
        return secret

    def listed(self) -> list[Token]:
        """All tokens, by name and then by age."""
        order = (TOKENS.c.name, TOKENS.c.created_at, TOKENS.c.id)
        with self._database.reading() as connection:
            return [_token(row) for row in connection.execute(select(TOKENS).order_by(*order)).mappings()]

    def revoke(self, name: str) -> bool:
        """Make the token of this name worthless from now on; False where none of that name is valid."""
        change = update(TOKENS).where(TOKENS.c.name == name, _valid()).values(revoked_at=now_text())
        with self._database.begin() as connection:
            return connection.execute(change).rowcount > 0

    def any_valid(self) -> bool:
        """Whether anyone could come in."""
        with self._database.reading() as connection:
            count = connection.execute(select(func.count()).select_from(TOKENS).where(_valid())).scalar_one()
            return int(count) > 0

    def holder(self, secret: str) -> Token | None:
        """The token that `secret` is, if it is valid now.

        The index is searched by the digest's first 32 bits, which tell nothing of a token; the whole digests
        are compared in a time that does not depend on how much of them agrees.
        """
        if FORM.fullmatch(secret) is None:
            return None
        digest = _digest(secret)
        start = digest[:SEARCHED]
        near = select(TOKENS).where(TOKENS.c.digest.between(start, start + "f" * 64), _valid())
        with self._database.reading() as connection:
            rows = list(connection.execute(near).mappings())
        found = [_token(row) for row in rows if hmac.compare_digest(row["digest"], digest)]
        if not found:
            return None
        self._note_use(found[0])
        return found[0]

    def _note_use(self, token: Token) -> None:
        """Keep when it was last used, to the hour. Where it cannot be written, the request goes on."""
        if token.last_used_at is not None and token.last_used_at > now_text(plus=-NOTED_EVERY):
            return
        change = update(TOKENS).where(TOKENS.c.id == token.token).values(last_used_at=now_text())
        with suppress(ServiceError), self._database.begin() as connection:
            connection.execute(change)


def _digest(secret: str) -> str:
    return hashlib.sha256(secret.encode()).hexdigest()


def _valid() -> ColumnElement[bool]:
    unexpired = or_(TOKENS.c.expires_at.is_(None), TOKENS.c.expires_at > now_text())
    return and_(TOKENS.c.revoked_at.is_(None), unexpired)


def _token(row: RowMapping) -> Token:
    return Token(
        token=str(row["id"]),
        owner=str(row["owner"]),
        name=str(row["name"]),
        may=str(row["may"]),
        created_at=str(row["created_at"]),
        expires_at=row["expires_at"],
        revoked_at=row["revoked_at"],
        last_used_at=row["last_used_at"],
    )
