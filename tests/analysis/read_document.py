"""Look-ups in an analysis document that many tests share."""

from typing import Any

Document = dict[str, Any]


def codes(document: Document) -> list[str]:
    """The codes of its cautions, in order."""
    return [caution["code"] for caution in document["cautions"]]


def caution(document: Document, code: str) -> Document:
    """The caution of that code, which must be there once."""
    (found,) = (entry for entry in document["cautions"] if entry["code"] == code)
    return found


def evidence(document: Document, code: str) -> Document:
    """The evidence of the caution of that code."""
    return caution(document, code)["evidence"]


def reasons(document: Document) -> list[str]:
    """The codes of the verdict's reasons, in order."""
    return [reason["code"] for reason in document["verdict"]["reasons"]]


def element(document: Document, name: str) -> Document:
    """The entry of an element."""
    return next(entry for entry in document["elements"] if entry["id"] == name)


def pair(document: Document, first: str, second: str) -> Document:
    """The entry of a pair."""
    return next(entry for entry in document["pairs"] if (entry["first"], entry["second"]) == (first, second))
