"""JSON in, without what is no JSON or would be lost: NaN, infinities, overlong numbers, repeated keys."""

import json
import math
from typing import Any

from service.errors import BadRequest

MOST_DIGITS = 20
SMALL_BYTES = 2**20


def strict_json(body: bytes, *, name: str = "The body") -> Any:
    """What the body holds; `name` is what it is called where it is refused.

    Raises BadRequest, with the remedy, for text that is not UTF-8 or not JSON, for NaN and infinities (1e999
    too), whole numbers of more than 20 digits, keys given twice in one object, and lists or objects nested
    too deeply. Large bodies are first read without looking at every object; only where their number of keys
    does not add up are they read again with care. Numbers in the lists of a large body may therefore be
    infinite or longer: whoever reads a long list checks the range of its numbers.
    """
    text = _text(body, name)
    try:
        if len(body) > SMALL_BYTES:
            document = _parsed(text, name)
            if _no_key_is_lost(document, body) and _all_finite(document):
                return document
        return _parsed(text, name, object_pairs_hook=_object, parse_int=_whole, parse_float=_number)
    except RecursionError as error:
        detail = f"{name} nests lists or objects too deeply; a trial and its readings need five levels."
        raise BadRequest(detail) from error


def _text(body: bytes, name: str) -> str:
    try:
        return body.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise BadRequest(f"{name} is not UTF-8 (byte {error.start}). Send JSON in UTF-8.") from error


def _parsed(text: str, name: str, **hooks: Any) -> Any:
    try:
        return json.loads(text, parse_constant=_constant, **hooks)
    except json.JSONDecodeError as error:
        place = f"line {error.lineno}, column {error.colno}"
        raise BadRequest(f"{name} is not JSON: {error.msg} at {place}. Mend it there.") from error
    except ValueError as error:
        detail = f"A whole number is too long; at most {MOST_DIGITS} digits are read."
        raise BadRequest(detail) from error


def _no_key_is_lost(document: Any, body: bytes) -> bool:
    """Whether the document surely has as many keys as the body.

    Every key of the body stands before a colon; a colon elsewhere, or a key in a place that `_keys` does not
    look into, makes the numbers differ, which costs a second reading and nothing else.
    """
    return body.count(b":") == body.count(b'":') == _keys(document)


def _keys(value: Any) -> int:
    """The keys of the objects in a value; not those of objects within a long list's entries."""
    if isinstance(value, dict):
        return len(value) + sum(map(_keys, value.values()))
    if isinstance(value, list) and set(map(type, value)) <= {dict}:
        return sum(map(len, value))
    return 0


def _all_finite(value: Any) -> bool:
    """Whether no number within is infinite; lists are not looked into."""
    if isinstance(value, dict):
        return all(map(_all_finite, value.values()))
    return not isinstance(value, float) or math.isfinite(value)


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    members = dict(pairs)
    if len(members) < len(pairs):
        keys = [key for key, _ in pairs]
        twice = next(key for place, key in enumerate(keys) if key in keys[:place])
        raise BadRequest(f"The key {twice[:80]!r} stands twice in one object. Give each key once.")
    return members


def _constant(name: str) -> float:
    detail = f"{name} is not a number of JSON. Give a finite number, or null where nothing was found."
    raise BadRequest(detail)


def _whole(digits: str) -> int:
    if len(digits) > MOST_DIGITS:
        raise BadRequest(f"A number of {len(digits)} digits is too long; at most {MOST_DIGITS} are read.")
    return int(digits)


def _number(digits: str) -> float:
    value = float(digits)
    if not math.isfinite(value):
        raise BadRequest(f"The number {digits[:40]} is too large. Give a finite number.")
    return value
