"""The bytes of a table as text: whatever they are encoded in becomes UTF-8 with one kind of line ending."""

import re
from dataclasses import dataclass, replace

from service.errors import BadRequest

BYTE_ORDER_MARK = b"\xef\xbb\xbf"
SIXTEEN_BIT_MARKS = (b"\xff\xfe", b"\xfe\xff")
REMEDY = "Save the table as CSV in UTF-8 and send that."
ZIP, OLE = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"
SEPARATOR_LINE = re.compile(r'\s*"?sep=(.)"?\s*', re.IGNORECASE)


@dataclass(frozen=True)
class TextLines:
    """A table as UTF-8 bytes whose lines end in a line feed; the last line ends without one.

    `encoding` is what the bytes came in. `first` is the number of the first line that is not empty, counted
    from 1. Where that line names the separator of the others it is `separator_row`, and `first` the next.
    """

    body: bytes
    encoding: str
    byte_order_mark: bool
    first: int
    separator: str | None = None
    separator_row: int | None = None

    def top(self, most: int) -> list[tuple[int, str]]:
        """The first lines from `first` on, each with its number."""
        lines = self.body.split(b"\n", self.first - 1 + most)[self.first - 1 :][:most]
        return [(self.first + place, line.decode()) for place, line in enumerate(lines)]

    def below(self, row: int) -> bytes:
        """What follows a line."""
        parts = self.body.split(b"\n", row)
        return parts[row] if len(parts) > row else b""

    def are_even(self, separator: str, row: int) -> bool:
        """Whether every line from `row` on that is not empty has equally many separators."""
        lines = self.below(row - 1).split(b"\n")
        return len({line.count(separator.encode()) for line in lines if line.strip()}) == 1


def text_lines(body: bytes) -> TextLines:
    """The lines of a body. Raises BadRequest for an empty one and for what is no text."""
    plain, encoding, marked = _decoded(body)
    plain = _line_feeds(plain).rstrip(b"\n")
    if b"\0" in plain:
        raise BadRequest(f"The body holds zero bytes: it is no text. {REMEDY}")
    lines = _from_first_line(TextLines(plain, encoding, marked, 1))
    line = lines.top(1)[0][1]
    named = SEPARATOR_LINE.fullmatch(line)
    if named is None:
        return lines
    return _from_first_line(
        replace(lines, first=lines.first + 1, separator=named[1], separator_row=lines.first)
    )


def _from_first_line(lines: TextLines) -> TextLines:
    rest = lines.below(lines.first - 1)
    if not rest.strip():
        detail = "The body is empty. Send a table with a heading, such as element,round,channel,value."
        raise BadRequest(detail)
    return replace(lines, first=lines.first + rest.count(b"\n", 0, len(rest) - len(rest.lstrip())))


def _decoded(body: bytes) -> tuple[bytes, str, bool]:
    """The body in UTF-8, what it came in, and whether a byte order mark stood before it."""
    if body.startswith(SIXTEEN_BIT_MARKS):
        return _from_sixteen_bits(body), "utf-16", True
    if body.startswith((ZIP, OLE)):
        raise BadRequest(
            "This is a workbook and no table of text: send it as "
            "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet, or save it as CSV."
        )
    marked = body.startswith(BYTE_ORDER_MARK)
    plain = body[len(BYTE_ORDER_MARK) :] if marked else body
    try:
        plain.decode("utf-8")
    except UnicodeDecodeError as error:
        if marked:
            line = _line_feeds(plain[: error.start]).count(b"\n") + 1
            raise BadRequest(f"The table begins as UTF-8 and is not in line {line}. {REMEDY}") from error
        return _from_windows(plain, error), "cp1252", False
    return plain, "utf-8", marked


def _from_sixteen_bits(body: bytes) -> bytes:
    try:
        return body.decode("utf-16").encode()
    except UnicodeError as error:
        raise BadRequest(f"The table begins as UTF-16 and does not go on so. {REMEDY}") from error


def _from_windows(plain: bytes, error: UnicodeDecodeError) -> bytes:
    """Bytes that are not UTF-8 as the code page that spreadsheets of western Europe write."""
    try:
        return plain.decode("cp1252").encode()
    except UnicodeDecodeError:
        line = _line_feeds(plain[: error.start]).count(b"\n") + 1
        raise BadRequest(f"The table is neither in UTF-8 nor in cp1252 (line {line}). {REMEDY}") from error


def _line_feeds(body: bytes) -> bytes:
    if b"\r" not in body:
        return body
    return body.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
