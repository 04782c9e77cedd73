"""What a reader of a page or picture reads, and which of its words are the reader's own."""

import dataclasses
import html
import re
from collections.abc import Iterator, Mapping
from typing import Any

from tests.languages.invented import plain_words

_READ_ATTRIBUTES = re.compile(r'\s(?:alt|aria-label|title|placeholder|label|data-[\w-]*)="([^"]*)"')
_UNREAD = re.compile(r"<(style|script)\b.*?</\1>|<svg\b.*?</svg>", re.DOTALL)
_OWN = {
    "id", "label", "title", "site", "taken_by", "condition", "name", "rf_channel", "reason", "message",
    "form", "material", "currency", "element", "reference", "source", "note", "from",
}  # fmt: skip
"""Fields of a document whose text is the reader's own and is printed as it was given."""
_NAMES = {"Aerial", "Assay", "Hodges", "Lehmann"}
_FOR_PROGRAMS = re.compile(
    r"python -m [\w.]+(?: --\w+ \w+)*"
    r"|(?:aerial-assay|python|numpy|scipy) \d[\d.]*|text/csv|application/json|utf-8"
    r"|\b[A-Z]{2}(?:-[0-9A-F]{4})+\b|\b[0-9a-f]{64}\b"
    r"|(?:\b(?:element|round|channel|value|rf\\?_channel|at)\b\W+){3,}"
)
"""Commands, versions, media types, hashes, and the headings of the columns that were read."""


def read_on(page: str) -> str:
    """The text of a page and its attributes that are read out."""
    bare = _UNREAD.sub(" ", page)
    attributes = " ".join(_READ_ATTRIBUTES.findall(bare))
    return html.unescape(f"{re.sub(r'<[^>]*>', ' ', bare.replace('<wbr>', ''))} {attributes}")


def in_picture(part: object) -> Iterator[str]:
    """Every string of a picture; what says how to draw it is left out."""
    if isinstance(part, str):
        yield part
    elif dataclasses.is_dataclass(part):
        for field in dataclasses.fields(part):
            if field.name not in {"mark", "kind", "shape", "sign"}:
                yield from in_picture(getattr(part, field.name))
    elif isinstance(part, list | tuple):
        for one in part:
            yield from in_picture(one)


def own_words(document: Any, *, own: bool = False) -> set[str]:
    """The words of all that the reader named in a document."""
    if isinstance(document, str):
        return set(plain_words(document)) if own else set()
    if isinstance(document, Mapping):
        inside = [own_words(value, own=own or key in _OWN) for key, value in document.items()]
    elif isinstance(document, list | tuple):
        inside = [own_words(value, own=own) for value in document]
    else:
        return set()
    return set().union(*inside)


def not_said(text: str, document: Any) -> list[str]:
    """Words of a text that are neither in the invented language nor the reader's own, each once."""
    return sorted(set(plain_words(_FOR_PROGRAMS.sub(" ", text))) - own_words(document) - _NAMES)
