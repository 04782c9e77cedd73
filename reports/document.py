"""The analysis document as a report reads it: the look-ups that sentences, tables and pictures share.

Nothing is computed here that the document does not hold, and nothing is rounded (see `numerals`).
"""

import re
import unicodedata
from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any

Document = Mapping[str, Any]
Entry = Mapping[str, Any]

CLEAR, WITHIN, MORE = "clear winner", "within noise", "needs more runs"
LONGEST_LABEL = 48
REPLACEMENT = "\N{REPLACEMENT CHARACTER}"
FIRST_STRONG_ISOLATE, POP_ISOLATE = "\u2068", "\u2069"
_NO_ISOLATES = str.maketrans("", "", FIRST_STRONG_ISOLATE + POP_ISOLATE)
_ISOLATES_SHOWN = str.maketrans(dict.fromkeys(FIRST_STRONG_ISOLATE + POP_ISOLATE, REPLACEMENT))
_ISOLATED = re.compile(f"{FIRST_STRONG_ISOLATE}[^{FIRST_STRONG_ISOLATE}{POP_ISOLATE}]*{POP_ISOLATE}")
_RIGHT_TO_LEFT = frozenset({"R", "AL", "AN"})
_DIRECTION_MARKS = frozenset("\u061c\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u200e\u200f\ufeff")


def clean(text: object) -> str:
    """Text of a stranger, safe to print: line ends become spaces, other control and direction marks a sign.

    Characters that no file can hold (lone surrogates) and those that turn the reading direction of what
    follows are replaced too, so that one name can never disguise another. A text with letters that run from
    right to left is isolated, so that it does not carry along the numbers beside it (Unicode Standard
    Annex 9).
    """
    given = str(text)
    if given.isascii() and given.isprintable():
        return given.strip()
    cleaned = "".join(_clean_character(character) for character in given).strip()
    outside = _outside_isolates(cleaned)
    if FIRST_STRONG_ISOLATE in outside or POP_ISOLATE in outside:
        cleaned = outside = cleaned.translate(_ISOLATES_SHOWN)
    if any(unicodedata.bidirectional(character) in _RIGHT_TO_LEFT for character in outside):
        return f"{FIRST_STRONG_ISOLATE}{cleaned}{POP_ISOLATE}"
    return cleaned


def without_isolates(text: str) -> str:
    """The text as pictures and terminals, which set no line from right to left, take it."""
    return text.translate(_NO_ISOLATES)


def labels(document: Document) -> dict[str, str]:
    """What each element is called, by id; where two share a label the id is put behind it."""
    named = {entry["id"]: clean(entry["label"]) or clean(entry["id"]) for entry in document["elements"]}
    uses = Counter(without_isolates(name) for name in named.values())
    return {
        key: name if uses[without_isolates(name)] == 1 else f"{name} ({clean(key)})"
        for key, name in named.items()
    }


def short_labels(document: Document) -> dict[str, str]:
    """The same, cut where one is too long for tables and pictures; the cut ones carry their place, "#12".

    The place tells apart what is alike up to the cut; the table of elements gives it beside the whole label.
    """
    whole = labels(document)
    return {key: _cut(label, place) for place, (key, label) in enumerate(whole.items(), start=1)}


def _cut(label: str, place: int) -> str:
    bare = without_isolates(label)
    if len(bare) <= LONGEST_LABEL:
        return label
    return f"{clean(bare[:LONGEST_LABEL])}\N{HORIZONTAL ELLIPSIS} #{place}"


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


def in_order(document: Document) -> list[Entry]:
    """All elements as reports list them: those that compete, best first, then the twins and pads."""
    return [*ranked(document), *controls(document)]


def leader(document: Document) -> Entry | None:
    """The best of those that compete, or None where nothing was ranked."""
    for entry in ranked(document)[:1]:
        return None if entry["rank"] is None else entry
    return None


def level_at_top(document: Document) -> list[str]:
    """The ids of those that share the very best score, where it is more than one; else none."""
    best = [entry["id"] for entry in competing(document) if entry["rank"] == 1]
    return best if len(best) > 1 else []


def not_judged(document: Document) -> list[str]:
    """The ids of those that compete and could not be judged although others were."""
    unranked = [entry["id"] for entry in competing(document) if entry["rank"] is None]
    return unranked if leader(document) is not None else []


def resolution(document: Document) -> float | None:
    """The step of the meter: as the trial states it, else as its readings show it."""
    stated = document["trial"]["meter"]["resolution"]
    return document["read_as"].get("resolution") if stated is None else stated  # type: ignore[no-any-return]


def by_known_noise(document: Document) -> bool:
    """Whether the present rounds are judged by a noise known beforehand."""
    return bool(document["method"]["design"] == "one round, known noise")


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


def ends(interval: Entry | None) -> tuple[float | None, float | None]:
    """Both ends of an interval, None where there is none."""
    return (interval["low"], interval["high"]) if interval else (None, None)


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


def _outside_isolates(text: str) -> str:
    """What stands outside every isolate that is opened and closed."""
    shorter = _ISOLATED.sub("", text)
    return text if shorter == text else _outside_isolates(shorter)


def _clean_character(character: str) -> str:
    if character in "\t\n\r\v\f\x85\u2028\u2029":
        return " "
    unprintable = unicodedata.category(character) in {"Cc", "Cs", "Cn"} or character in _DIRECTION_MARKS
    return REPLACEMENT if unprintable else character
