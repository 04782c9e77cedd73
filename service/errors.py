"""What can go wrong, as one tree; every room raises these, the outermost edge makes answers of them.

ServiceError            500  a fault of our own
  Refused               4xx  the caller can mend it
    BadRequest          400  the body is not what its media type says
    NotKnown            404
    NotAcceptable       406  no such form
    TooLarge            413  a limit was passed
    UnsupportedMedia    415
    BadInput            422  the body was understood and is wrong; carries every fault
    TooMany             429  try again later
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
    title: ClassVar[str] = "A fault of our own"

    def __init__(self, detail: str, *, headers: Mapping[str, str] | None = None):
        super().__init__(detail)
        self.detail = detail
        self.headers = dict(headers or {})


class Refused(ServiceError):  # noqa: N818 (named for what it says, its kinds too)
    """The caller can mend it."""

    status = 400
    title = "Refused"


class BadRequest(Refused):
    """The body is not what its media type says it is."""

    title = "The body could not be read"


class NotKnown(Refused):
    """Nothing of that name is here."""

    status = 404
    title = "Not found"


class NotAcceptable(Refused):
    """The answer does not come in that form."""

    status = 406
    title = "No such form"


class TooLarge(Refused):
    """A limit was passed; the detail names the limit and the remedy."""

    status = 413
    title = "Over a limit"


class UnsupportedMedia(Refused):
    """The body came in a media type that is not read here."""

    status = 415
    title = "Media type not read here"


class TooMany(Refused):
    """Too much at once; try again later."""

    status = 429
    title = "Too many requests"


class BadInput(Refused):
    """The body was understood and is wrong; `faults` are the places, at most 100, `count` all of them."""

    status = 422
    title = "The input has faults"

    def __init__(self, faults: Sequence[Fault], *, count: int | None = None):
        self.faults = tuple(faults[:MOST_FAULTS])
        self.count = len(faults) if count is None else count
        places = "1 fault" if self.count == 1 else f"{self.count} faults"
        super().__init__(f"{places}; nothing of this input was used. Mend each place and send it again.")
