"""Requests whose framing or whose host could be read in two ways are refused, and the connection closed.

waitress takes the body of a request with both a length and chunks by its chunks and goes on with the
connection. A proxy that took it by its length would see other requests on that connection than we do
(RFC 9112 sections 6.1 and 11.2).
"""

from waitress.parser import HTTPRequestParser, ParsingError


class StrictParser(HTTPRequestParser):  # type: ignore[misc] # the library has no types
    """Reads a request; an `error` is answered, and ends the connection."""

    def parse_header(self, header_plus: bytes) -> None:
        """Raise ParsingError for a head that could mean two requests."""
        try:
            super().parse_header(header_plus)
        except ValueError as error:  # such as http://[ in the request line
            raise ParsingError("The request line names no place") from error
        if self.chunked and "CONTENT_LENGTH" in self.headers:
            raise ParsingError("A body has a Content-Length or a Transfer-Encoding, not both")
        if "TRANSFER_ENCODING" in self.headers:  # taken out where it counts
            raise ParsingError("Transfer-Encoding is read in HTTP/1.1 only")
        host = self.headers.get("HOST", "").lower()
        if self.proxy_netloc and self.proxy_netloc.lower() != host:
            raise ParsingError("The host in the request line is not that of the Host header")
