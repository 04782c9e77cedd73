"""Readings as a form sends them: a file, a pasted table, or what an earlier page carried along."""

import base64
import binascii
import json
import zlib
from dataclasses import dataclass
from pathlib import PurePath
from typing import Final

from flask import Request

from reports.language import say
from service.errors import BadInput, BadRequest, Fault, TooLarge, UnsupportedMedia
from service.intake import media_types
from service.intake.media_types import CSV, JSON, NDJSON, TSV, XLSX
from service.pages.fields import Hidden

ENDINGS: Final = media_types.ENDINGS | {".txt": CSV}
"""Those of the media types, and what people call a table of theirs."""
PASTED: Final = "pasted.csv"
MOST_CARRIED: Final = 24_000
"""Characters of packed readings that a page takes along; it would weigh too much with more."""
MOST_SHOWN: Final = 200_000
"""Characters of a table that a form shows again."""
ZIP_SIGN: Final = b"PK\x03\x04"


@dataclass(frozen=True)
class Sent:
    """Readings with the name and the media type of their file."""

    name: str
    media_type: str
    body: bytes

    @property
    def has_trial(self) -> bool:
        """Whether the file holds a trial too, so that the form need not spell one out."""
        if self.media_type != JSON:
            return False
        try:
            content = json.loads(self.body)
        except (ValueError, RecursionError):
            return False
        return isinstance(content, dict) and "trial" in content

    def text(self) -> str | None:
        """The table as text that a form can show again; None for workbooks and for what is too long."""
        if self.media_type == XLSX or len(self.body) > MOST_SHOWN:
            return None
        try:
            return self.body.decode("utf-8-sig")
        except UnicodeDecodeError:
            return self.body.decode("cp1252", errors="replace")

    def line(self, number: int) -> str:
        """A line of the table, counted from 1; empty where there is none."""
        lines = (self.text() or "").splitlines()
        return lines[number - 1] if 0 < number <= len(lines) else ""

    def carried(self) -> tuple[Hidden, ...]:
        """Fields by which a page takes the readings along; none where they are too many."""
        packed = base64.b64encode(zlib.compress(self.body, 9)).decode("ascii")
        if len(packed) > MOST_CARRIED:
            return ()
        return (Hidden("carried_name", self.name), Hidden("carried", packed))


def sent_readings(request: Request, *, most_bytes: int) -> Sent:
    """The readings of the form: the file, else the pasted table, else what was carried along.

    Raises BadInput where there are none, UnsupportedMedia for a file that is not read, BadRequest and
    TooLarge for carried readings that are none.
    """
    file = request.files.get("readings")
    if file is not None and file.filename:
        return _named(PurePath(file.filename).name, file.stream.read())
    pasted = request.form.get("table", "")
    if pasted.strip():
        return Sent(PASTED, _pasted_type(pasted), pasted.replace("\r\n", "\n").encode())
    if request.form.get("carried"):
        body = _unpacked(request.form["carried"], most_bytes)
        return _named(request.form.get("carried_name", PASTED), body)
    nothing = say("Choose a file, or paste the table with its line of headings.")
    raise BadInput([Fault(nothing, column="readings")])


def _named(name: str, body: bytes) -> Sent:
    ending = PurePath(name).suffix.lower()
    if body.startswith(ZIP_SIGN) and ending not in ENDINGS:
        ending = ".xlsx" if ending == "" else ending
    if ending and ending not in ENDINGS:
        raise UnsupportedMedia(
            say(
                "A file that ends in {ending} is not read. Save the table as CSV or XLSX, or copy its cells "
                "and paste them.",
                ending=ending,
            )
        )
    if not ending:
        return Sent(name, _pasted_type(body.decode("utf-8", errors="replace")), body)
    return Sent(name, ENDINGS[ending], body)


def _pasted_type(text: str) -> str:
    """The media type of pasted text: cells out of a spreadsheet come with tabs."""
    start = text.lstrip("\ufeff \t\r\n")
    if start.startswith(("{", "[")):
        return NDJSON if _is_lines(start) else JSON
    return TSV if "\t" in start.partition("\n")[0] else CSV


def _is_lines(text: str) -> bool:
    """Whether the first line is a whole JSON object and others follow."""
    first, _, rest = text.partition("\n")
    try:
        return isinstance(json.loads(first), dict) and bool(rest.strip())
    except (ValueError, RecursionError):
        return False


def _unpacked(packed: str, most_bytes: int) -> bytes:
    opener = zlib.decompressobj()
    try:
        body = opener.decompress(base64.b64decode(packed, validate=True), most_bytes)
    except (binascii.Error, zlib.error) as error:
        damaged = say("The readings that this page carried along were damaged. Send the file again.")
        raise BadRequest(damaged) from error
    if opener.unconsumed_tail:
        raise TooLarge(
            say("The readings are more than {number} bytes. Send fewer at a time.", number=most_bytes)
        )
    return body
