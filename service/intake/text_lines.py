"""The bytes of a table as text: UTF-8, one kind of line ending."""

from dataclasses import dataclass

from service.errors import BadRequest

BYTE_ORDER_MARK = b"\xef\xbb\xbf"
SIXTEEN_BIT_MARKS = (b"\xff\xfe", b"\xfe\xff")
REMEDY = "Save the table as CSV in UTF-8 and send that."


@dataclass(frozen=True)
class TextLines:
    """A table as UTF-8 bytes whose lines end in a line feed; the last line ends without one.

    `first` is the number of the first line that is not empty, counted from 1.
    """

    body: bytes
    byte_order_mark: bool
    first: int

    def line(self) -> str:
        """The first line that is not empty."""
        return self.body.split(b"\n", self.first)[self.first - 1].decode()

    def rest(self) -> bytes:
        """What follows that line."""
        parts = self.body.split(b"\n", self.first)
        return parts[self.first] if len(parts) > self.first else b""


def text_lines(body: bytes) -> TextLines:
    """The lines of a body. Raises BadRequest for an empty one and for what is not UTF-8 text."""
    if body.startswith(SIXTEEN_BIT_MARKS):
        raise BadRequest(f"The table is in UTF-16. {REMEDY}")
    marked = body.startswith(BYTE_ORDER_MARK)
    plain = _line_feeds(body[len(BYTE_ORDER_MARK) :] if marked else body).rstrip(b"\n")
    if b"\0" in plain:
        raise BadRequest(f"The body holds zero bytes: it is no text. {REMEDY}")
    try:
        plain.decode("utf-8")
    except UnicodeDecodeError as error:
        line = plain.count(b"\n", 0, error.start) + 1
        raise BadRequest(f"The table is not in UTF-8 (line {line}). {REMEDY}") from error
    if not plain.strip():
        detail = "The body is empty. Send a table with a heading, such as element,round,channel,value."
        raise BadRequest(detail)
    first = plain.count(b"\n", 0, len(plain) - len(plain.lstrip())) + 1
    return TextLines(plain, marked, first)


def _line_feeds(body: bytes) -> bytes:
    if b"\r" not in body:
        return body
    return body.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
