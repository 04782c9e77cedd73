"""Where a message is sent, in the parts that a request and its signature name it by."""

from dataclasses import dataclass
from urllib.parse import urlsplit

PORTS = {"https": 443, "http": 80}


@dataclass(frozen=True)
class Target:
    """A URL in parts. authority: as the Host header names it (RFC 9110 section 7.2); query: behind "?"."""

    scheme: str
    host: str
    port: int
    authority: str
    path: str
    query: str

    @classmethod
    def of(cls, url: str) -> "Target":
        """The target of an http or https URL in ASCII that names a host and no user."""
        parts = urlsplit(url)
        host = parts.hostname or ""
        port = parts.port or PORTS[parts.scheme]
        named = f"[{host}]" if ":" in host else host
        authority = named if port == PORTS[parts.scheme] else f"{named}:{port}"
        return cls(parts.scheme, host, port, authority, parts.path or "/", parts.query)

    @property
    def requested(self) -> str:
        """Path and query as the request line has them (RFC 9112 section 3.2.1)."""
        return f"{self.path}?{self.query}" if self.query else self.path
