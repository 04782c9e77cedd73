"""A zip archive whose members carry one fixed time, so that the same content is the same bytes."""

from pathlib import Path
from typing import Any, Final
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

EARLIEST: Final = (1980, 1, 1, 0, 0, 0)
"""The first moment that the format can hold."""


class TimelessZip(ZipFile):
    """Writes every member, from memory or from a file, as of the earliest moment."""

    def writestr(self, zinfo_or_arcname: str | ZipInfo, data: str | bytes, *_: Any) -> None:  # type: ignore[override] # how it is compressed is fixed
        """Write what is in memory."""
        name = zinfo_or_arcname.filename if isinstance(zinfo_or_arcname, ZipInfo) else str(zinfo_or_arcname)
        member = ZipInfo(name.removeprefix("/"), EARLIEST)
        member.compress_type = ZIP_DEFLATED
        super().writestr(member, data)

    def write(self, filename: Any, arcname: Any = None, *_: Any) -> None:
        """Write a file."""
        self.writestr(str(arcname or filename), Path(filename).read_bytes())
