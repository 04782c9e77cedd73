"""An invented language: every vowel wears an accent, so that a word that was not translated stands out."""

import re
from io import BytesIO
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo

from reports.locales import Locale

NAME, LANGUAGE = "qaa-ZZ", "qaa"
"""A language tag for private use (BCP 47, RFC 5646 section 2.2.1: qaa to qtz), here and nowhere else."""
LOCALE = Locale(
    LANGUAGE, ".", "\N{NARROW NO-BREAK SPACE}", "{day} {month} {year}", "{day}-{last} {month} {year}", "a4"
)
_ACCENTED = str.maketrans("aeiouyAEIOUY", "áéíóúýÁÉÍÓÚÝ")
_PLACED = re.compile(r"(\{[^{}]*\})")
_PLAIN_WORD = re.compile(r"[^\W\d_]*[aeiouyAEIOUY][^\W\d_]*")


def spelt(message: str) -> str:
    """The message in the invented language; what is placed in it keeps its name."""
    parts = _PLACED.split(message)
    return "".join(part if part.startswith("{") else part.translate(_ACCENTED) for part in parts)


def plain_words(text: str) -> list[str]:
    """The words of a text that hold a vowel without its accent."""
    return _PLAIN_WORD.findall(text)


def write(catalog: Catalog, folder: Path) -> None:
    """Translate all messages of a catalogue and leave it in the folder. Changes the catalogue."""
    for message in catalog:
        if message.id:
            many = isinstance(message.id, tuple)
            message.string = tuple(map(spelt, message.id)) if many else spelt(message.id)
    written = BytesIO()
    write_mo(written, catalog)
    (folder / f"{LANGUAGE}.mo").write_bytes(written.getvalue())
