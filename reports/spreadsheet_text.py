"""Text as a cell of a table that spreadsheets open."""

from typing import Final

_SIGNS: Final = tuple("=+-@\t\r\0")


def quoted(text: str) -> str:
    """A text that no spreadsheet runs as a formula: behind an apostrophe, which reading takes off again."""
    return f"'{text}" if text.lstrip("'")[:1] in _SIGNS else text
