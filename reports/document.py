"""The analysis document as a report reads it: the look-ups that sentences, tables and pictures share.

Nothing is computed here that the document does not hold, and nothing is rounded (see `numerals`).
"""

import unicodedata
from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any

Document = Mapping[str, Any]
Entry = Mapping[str, Any]

CLEAR, WITHIN, MORE = "clear winner", "within noise", "needs more runs"
REPLACEMENT = "\N{REPLACEMENT CHARACTER}"
_DIRECTION_MARKS = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f\ufeff")


def clean(text: object) -> str:
    """Text of a stranger, safe to print: line ends become spaces, other control and direction marks a sign.

    Characters that no file can hold (lone surrogates) and those that turn the reading direction of what
    follows are replaced too, so that one name can never disguise another.
    """
    return "".join(_clean_character(character) for character in str(text)).strip()


def labels(document: Document) -> dict[str, str]:
    """What each element is called, by id; where two share a label the id is put behind it."""
    named = {entry["id"]: clean(entry["label"]) or clean(entry["id"]) for entry in document["elements"]}
    uses = Counter(named.values())
    return {key: name if uses[name] == 1 else f"{name} ({clean(key)})" for key, name in named.items()}


def competing(document: Document) -> list[Entry]:
    """The elements that compete (no twin, no pad), in the order of the document."""
    return [entry for entry in document["elements"] if entry["role"] == "competes"]


def controls(document: Document) -> list[Entry]:
    """The twins and pads, in the order of the document."""
    return [entry for entry in document["elements"] if entry["role"] != "competes"]


def ranked(document: Document) -> list[Entry]:
    """Those that compete, best first; unranked ones keep their order at the end."""
    last = len(document["elements"]) + 1
    return sorted(competing(document), key=lambda entry: entry["rank"] or last)


def leader(document: Document) -> Entry | None:
    """The best of those that compete, or None where nothing was ranked."""
    for entry in ranked(document)[:1]:
        return None if entry["rank"] is None else entry
    return None


def element(document: Document, element_id: str) -> Entry:
    """The entry of an element; KeyError for an id that the document does not know."""
    entries: list[Entry] = document["elements"]
    for entry in entries:
        if entry["id"] == element_id:
            return entry
    raise KeyError(element_id)


def pair(document: Document, one: str, other: str) -> Entry:
    """The entry of a pair, in whichever order it stands; KeyError for two that were not compared."""
    entries: list[Entry] = document["pairs"]
    for entry in entries:
        if {entry["first"], entry["second"]} == {one, other}:
            return entry
    raise KeyError(one, other)


def error_rate(document: Document) -> float:
    """The share of trials that may end in a false call: 1 - confidence, or what unplanned looks made it."""
    evidence = caution_evidence(document, "unplanned-looks")
    return float(evidence["promise"]) if evidence else 1.0 - float(document["trial"]["confidence"])


def caution_evidence(document: Document, code: str) -> Entry | None:
    """The evidence of a caution, or None where the document does not carry it."""
    for caution in document["cautions"]:
        if caution["code"] == code:
            return caution["evidence"]  # type: ignore[no-any-return]
    return None


def stops(document: Document) -> list[Entry]:
    """The cautions that stop a trial."""
    return [caution for caution in document["cautions"] if caution["severity"] == "stop"]


def reason(document: Document, code: str) -> Entry | None:
    """The evidence of a reason of the verdict, or None where it is not given."""
    for entry in document["verdict"]["reasons"]:
        if entry["code"] == code:
            return entry["evidence"]  # type: ignore[no-any-return]
    return None


def signals(document: Document) -> list[str]:
    """The RF channels that entered the level analysis, in the order in which the channels name them."""
    left = {entry["rf_channel"] for entry in document["read_as"].get("left_out") or ()}
    return [name for name in all_signals(document) if name not in left]


def all_signals(document: Document) -> list[str]:
    """Every RF channel that was scanned, in the order in which the channels name them."""
    return list(dict.fromkeys(entry["rf_channel"] for entry in document["channels"]))


def known(values: Sequence[float | None]) -> list[float]:
    """Those of the values that are there."""
    return [value for value in values if value is not None]


def _clean_character(character: str) -> str:
    if character in "\t\n\r\v\f\x85\u2028\u2029":
        return " "
    unprintable = unicodedata.category(character) in {"Cc", "Cs", "Cn"} or character in _DIRECTION_MARKS
    return REPLACEMENT if unprintable else character
