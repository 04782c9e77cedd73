"""The user's files as one request: a table, a table with its trial, or a JSON batch."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from service.client.trouble import Trouble

JSON = "application/json"
NDJSON = "application/x-ndjson"
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
MEDIA_TYPES: Mapping[str, str] = {
    ".csv": "text/csv",
    ".tsv": "text/tab-separated-values",
    ".tab": "text/tab-separated-values",
    ".ndjson": NDJSON,
    ".jsonl": NDJSON,
    ".xlsx": XLSX,
    ".json": JSON,
}
BYTE_ORDER_MARK = b"\xef\xbb\xbf"
SIXTEEN_BIT_MARKS = (b"\xff\xfe", b"\xfe\xff")


@dataclass(frozen=True)
class Piece:
    """The lines of one file in the table sent: line `first` there is line `own` of the file."""

    name: str
    first: int
    own: int


@dataclass(frozen=True)
class Package:
    """What is sent: the body, its media type, the trial document beside it, and where each line came from.

    `called` is what the user calls a place of the body, by its JSON pointer.
    """

    body: bytes
    media_type: str
    trial: bytes | None = None
    pieces: tuple[Piece, ...] = ()
    called: Mapping[str, str] = field(default_factory=dict)

    def request(self) -> dict[str, Any]:
        """The arguments of an httpx request that sends this."""
        if self.trial is None:
            return {"content": self.body, "headers": {"Content-Type": self.media_type}}
        readings = ("readings", self.body, self.media_type)
        return {"files": {"readings": readings, "trial": ("trial.json", self.trial, JSON)}}

    def place_of_row(self, row: int) -> str:
        """The file and line that a row of the table sent came from."""
        piece = next((piece for piece in reversed(self.pieces) if piece.first <= row), None)
        return f"{piece.name} line {row - piece.first + piece.own}" if piece else f"line {row}"


def package_files(files: Sequence[Path], trial: Path | None) -> Package:
    """The files as one package; several tables with the same heading become one.

    Raises Trouble for a file that cannot be read, an ending that says no media type, different kinds or
    headings, several JSON batches, and a trial beside a batch that holds its own.
    """
    media_types = {_media_type(file) for file in files}
    if len(media_types) > 1:
        raise Trouble("Files of different kinds do not make one batch. Give files of one kind.")
    media_type = media_types.pop()
    if media_type == JSON:
        return _json_batch(files, trial)
    beside = bytes_of(trial) if trial is not None else None
    bodies = [bytes_of(file) for file in files]
    if len(files) == 1:
        return Package(bodies[0], media_type, beside, (Piece(files[0].name, 1, 1),))
    names = [file.name for file in files]
    if media_type == XLSX:
        raise Trouble("Only one workbook is taken at a time. Put the readings of all into one sheet.")
    _check_encodings(names, bodies)
    body, pieces = _one_table(names, bodies, has_heading=media_type != NDJSON)
    return Package(body, media_type, beside, pieces)


def _json_batch(files: Sequence[Path], trial: Path | None) -> Package:
    if len(files) > 1:
        raise Trouble("Only one JSON batch is taken at a time. Put the readings of all into one file.")
    if trial is not None:
        raise Trouble(f"{files[0].name} holds a trial itself. Leave --trial out, or give a table.")
    return Package(bytes_of(files[0]), JSON)


def _check_encodings(names: Sequence[str], bodies: Sequence[bytes]) -> None:
    """Refuse files of different encodings, which would spoil one another's names in one body."""
    told = {_is_utf8(body) for body in bodies if not body.isascii()}
    for name, body in zip(names, bodies, strict=True):
        if body.startswith(SIXTEEN_BIT_MARKS) or (len(told) > 1 and not _is_utf8(body)):
            raise Trouble(f"{name} is not in UTF-8 like the others. Save it as UTF-8, or send it alone.")


def _is_utf8(body: bytes) -> bool:
    try:
        body.decode("utf-8")
    except UnicodeDecodeError:
        return False
    return True


def _one_table(
    names: Sequence[str], bodies: Sequence[bytes], *, has_heading: bool
) -> tuple[bytes, tuple[Piece, ...]]:
    """The tables under each other, one heading on top where they have one."""
    lines: list[bytes] = []
    pieces: list[Piece] = []
    heading = b""
    for name, body in zip(names, bodies, strict=True):
        own = body.removeprefix(BYTE_ORDER_MARK).splitlines()
        place = next((place for place, line in enumerate(own) if line.strip()), None)
        if place is None:
            raise Trouble(f"{name} is empty.")
        if has_heading and lines and own[place].strip() != heading:
            raise Trouble(f"{name} has another heading than {names[0]}; only tables alike make one batch.")
        start = place + 1 if lines and has_heading else 0
        pieces.append(Piece(name, len(lines) + 1, start + 1))
        heading = own[place].strip()
        lines += own[start:]
    return b"\n".join(lines) + b"\n", tuple(pieces)


def _media_type(file: Path) -> str:
    media_type = MEDIA_TYPES.get(file.suffix.lower())
    if media_type is None:
        raise Trouble(
            f"What {file.name} holds is told by its ending; known are {', '.join(MEDIA_TYPES)}. Save any "
            "other table as .xlsx or .csv."
        )
    return media_type


def bytes_of(file: Path) -> bytes:
    """What the file holds. Raises Trouble where it cannot be read."""
    try:
        return file.read_bytes()
    except OSError as error:
        raise Trouble(f"{file} cannot be read: {error.strerror or error}.") from error
