"""Styles, scripts and drawings: files of this package under an address that changes with their contents."""

import hashlib
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Final

from reports import page as report_page

_HERE: Final = Path(__file__).parent / "static"
MEDIA_TYPES: Final[Mapping[str, str]] = {
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".svg": "image/svg+xml",
    ".ico": "image/x-icon",
}
REPORT_STYLE: Final = "report.css"
"""The style of the reports, which pages share: its names and its palette."""


@cache
def assets() -> Mapping[str, bytes]:
    """The contents of every file, by name."""
    files = {path.name: path.read_bytes() for path in sorted(_HERE.iterdir()) if path.suffix in MEDIA_TYPES}
    return files | {REPORT_STYLE: report_page.style("palette", "both", "screen").encode()}


@cache
def edition() -> str:
    """A name for the contents of all files together; in their addresses, so that copies never go stale."""
    digest = hashlib.sha256()
    for name, content in sorted(assets().items()):
        digest.update(name.encode() + b"\0" + content + b"\0")
    return digest.hexdigest()[:16]


def address(name: str) -> str:
    """Where a file is to be had. KeyError for one that is not there."""
    assets()[name]
    return f"/static/{edition()}/{name}"


def media_type(name: str) -> str:
    """The media type of a file, told by its ending."""
    return MEDIA_TYPES[Path(name).suffix]
