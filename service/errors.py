"""What can go wrong, as one tree; every room raises these, the outermost edge makes answers of them.

ServiceError            500  a fault of our own
  Refused               4xx  the caller can mend it
    BadRequest          400  the body is not what its media type says
    TokenWanted         401  no token, or none that is valid
    NotAllowed          403  the token is not for this
    NotKnown            404
    NotAcceptable       406  no such form
    Conflict            409  the same request is being worked on
    Stale               412  it has changed since it was read
    TooLarge            413  a limit was passed
    UnsupportedMedia    415
    BadInput            422  the body was understood and is wrong; carries every fault
    VersionWanted       428  a change that does not say what it changes
    TooMany             429  try again later
  StorageUnavailable    503  the database does not answer now
  StorageFull           507  its disk is full
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar

MOST_FAULTS = 100


@dataclass(frozen=True)
class Fault:
    """One place where the input is wrong: where, what was given, what is allowed and the remedy.

    Either `pointer` (JSON, "#/readings/12/value") or `row` (lines of the file from 1, heading included)
    names the place; `detail` says what is allowed and what to do.
    """

    detail: str
    pointer: str | None = None
    row: int | None = None
    column: str | None = None
    given: object = None

    def document(self) -> dict[str, object]:
        """The fault as it stands in a problem document, without the fields that are empty."""
        fields = {"pointer": self.pointer, "row": self.row, "column": self.column, "given": self.given}
        return {name: value for name, value in fields.items() if value is not None} | {"detail": self.detail}


class ServiceError(Exception):
    """Anything this service raises on purpose."""

    status: ClassVar[int] = 500

    def __init__(self, detail: str, *, headers: Mapping[str, str] | None = None):
        super().__init__(detail)
        self.detail = detail
        self.headers = dict(headers or {})


class Refused(ServiceError):
    """The caller can mend it."""

    status = 400


class BadRequest(Refused):
    """The body is not what its media type says it is."""


class TokenWanted(Refused):
    """No token was given, or none that is valid."""

    status = 401


class NotAllowed(Refused):
    """Who asks may not do this."""

    status = 403


class NotKnown(Refused):
    """Nothing of that name is here."""

    status = 404


class NotAcceptable(Refused):
    """The answer does not come in that form."""

    status = 406


class Conflict(Refused):
    """The same request is being worked on already."""

    status = 409


class Stale(Refused):
    """What is to be changed has changed since the caller read it."""

    status = 412


class VersionWanted(Refused):
    """A change must name the version that it is made to."""

    status = 428


class TooLarge(Refused):
    """A limit was passed; the detail names the limit and the remedy."""

    status = 413


class UnsupportedMedia(Refused):
    """The body came in a media type that is not read here."""

    status = 415


class TooMany(Refused):
    """Too much at once; try again later."""

    status = 429


class BadInput(Refused):
    """The body was understood and is wrong; `faults` are the places, at most 100, `count` all of them."""

    status = 422

    def __init__(self, faults: Sequence[Fault], *, count: int | None = None):
        self.faults = tuple(faults[:MOST_FAULTS])
        self.count = len(faults) if count is None else count
        places = "1 fault" if self.count == 1 else f"{self.count} faults"
        super().__init__(f"{places}; nothing of this input was used. Mend each place and send it again.")


class StorageUnavailable(ServiceError):
    """The database does not answer now; nothing was changed as far as can be told."""

    status = 503


class StorageFull(ServiceError):
    """The disk of the database is full; nothing was changed."""

    status = 507
