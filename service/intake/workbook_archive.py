"""The archive that a workbook is: what it may hold, checked before anything of it is unpacked.

Nothing is written anywhere and no name in the archive leads out of it: parts are looked up by name and read
as streams, each no further than the size that was summed before.
"""

import io
import zipfile
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, NoReturn
from xml.parsers import expat  # a DTD ends the reading, so there are no entities

from service.errors import BadRequest, TooLarge
from service.intake.broken_zip import BROKEN_ZIP
from service.settings import Limits

CHUNK = 2**14
"""Bytes of XML read at once. Rows of one chunk stand in memory together, each as wide as its last cell."""
OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
ENTRY = b"PK\x01\x02"
"""With this each entry of an archive's directory begins; counting them costs less than opening it."""
HIGHEST_RATIO = 200
LARGE_BYTES = 2**20
"""A part that unpacks to more than LARGE_BYTES is at most HIGHEST_RATIO times its packed size: what people
type packs to a tenth or a thirtieth, one thing without end to a thousandth."""
OPEN_DOCUMENT = b"application/vnd.oasis.opendocument"
REMEDY = "Save it as XLSX (without a password) or as CSV and send that."

Handlers = dict[str, Callable[..., Any]]


@dataclass(frozen=True)
class Archive:
    """An archive whose sizes were found to be within the limits."""

    packed: zipfile.ZipFile

    def has(self, name: str) -> bool:
        """Whether there is a part of this name."""
        return name in self.packed.NameToInfo

    def parse(self, name: str, handlers: Handlers) -> "Parse":
        """The XML of a part, to be read chunk by chunk with handlers of xml.parsers.expat."""
        return Parse(self.packed, name, handlers)


class Parse:
    """One reading of a part. Raises BadRequest for a part that is missing, broken, no XML or has a DTD."""

    def __init__(self, packed: zipfile.ZipFile, name: str, handlers: Handlers):
        self._name = name
        self._parser = expat.ParserCreate()
        self._parser.buffer_text = True
        self._parser.StartDoctypeDeclHandler = self._refuse_dtd
        for event, handler in handlers.items():
            setattr(self._parser, event, handler)
        try:
            self._stream = packed.open(name)
        except (*BROKEN_ZIP, KeyError) as error:
            raise broken(name) from error

    def step(self) -> bool:
        """Read one chunk; False at the end."""
        try:
            chunk = self._stream.read(CHUNK)
        except BROKEN_ZIP as error:
            raise broken(self._name) from error
        try:
            self._parser.Parse(chunk, not chunk)
        except expat.ExpatError as error:
            raise broken(self._name) from error
        return bool(chunk)

    def whole(self) -> None:
        """Read to the end."""
        while self.step():
            pass

    def _refuse_dtd(self, *_: object) -> NoReturn:
        raise BadRequest(
            f"The part {self._name} of the workbook has a DTD, which no workbook needs. {REMEDY}"
        )


def broken(part: str) -> BadRequest:
    """The refusal of a workbook with a broken part."""
    return BadRequest(f"The workbook is broken in its part {part[:80]}. Open it in a spreadsheet. {REMEDY}")


def open_archive(body: bytes, limits: Limits) -> Archive:
    """The archive. Raises BadRequest for what is no XLSX, TooLarge past a limit of entries or size."""
    if body.startswith(OLE):
        raise BadRequest(f"This workbook has a password, or is of the old kind (.xls). {REMEDY}")
    if not body:
        raise BadRequest("The body is empty. Send a workbook (XLSX) with a sheet of readings.")
    _check_entries(body.count(ENTRY), limits)
    try:
        packed = zipfile.ZipFile(io.BytesIO(body))
    except BROKEN_ZIP as error:
        raise BadRequest(f"This is no workbook (XLSX). {REMEDY}") from error
    _check_size(packed.infolist(), limits)
    _check_ratios(packed.infolist())
    if OPEN_DOCUMENT in body[:200]:
        raise BadRequest(f"This is an OpenDocument file, which is not read. {REMEDY}")
    return Archive(packed)


def _check_entries(entries: int, limits: Limits) -> None:
    if entries > limits.workbook_entries:
        raise TooLarge(
            f"The workbook has {entries} parts; at most {limits.workbook_entries} are read. Copy the "
            "readings alone into a new one, or send them as CSV."
        )


def _check_size(entries: list[zipfile.ZipInfo], limits: Limits) -> None:
    size = sum(entry.file_size for entry in entries)
    if size > limits.workbook_bytes:
        raise TooLarge(
            f"The workbook unpacks to {size} bytes; at most {limits.workbook_bytes} are read. Copy the "
            "readings alone into a new one, or send them as CSV."
        )


def _check_ratios(entries: list[zipfile.ZipInfo]) -> None:
    for entry in entries:
        if entry.file_size > max(LARGE_BYTES, HIGHEST_RATIO * entry.compress_size):
            raise TooLarge(
                f"The part {entry.filename[:80]} of the workbook unpacks to {entry.file_size} bytes, more "
                f"than {HIGHEST_RATIO} times what it is packed in: the same thing over and over. Delete the "
                "empty rows below the readings, or send them as CSV."
            )
