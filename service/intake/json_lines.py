"""Readings as NDJSON: a JSON object a line."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from service.errors import BadRequest, Fault
from service.intake.faults import FaultList
from service.intake.strict_json import strict_json
from service.intake.text_lines import BYTE_ORDER_MARK

OBJECTS = "Each line holds one reading as a JSON object, such as {}"
EXAMPLE = '{"element": "brass-3", "round": 1, "channel": "27.1", "value": 7}'
SOMETHING_ELSE = (
    "More than 1000 lines are no JSON, so that this is something else; the rest was not looked at. "
    "Send it with the Content-Type that it has."
)
NAME = "This line"
MOST_BROKEN = 1_000
"""Lines that are no JSON; a body with more of them is something else, and is not read to its end."""


def json_lines(body: bytes, faults: FaultList) -> tuple[list[Any], NDArray[np.int64]]:
    """The entries of a body and their lines, counted from 1; empty lines count and hold nothing.

    A line that is no JSON is noted as a fault and left out. Raises BadRequest for an empty body, BadInput
    with every fault so far once more than MOST_BROKEN lines are no JSON.
    """
    plain = body.removeprefix(BYTE_ORDER_MARK).replace(b"\r\n", b"\n").rstrip()
    if not plain:
        raise BadRequest(f"The body is empty. {OBJECTS.format(EXAMPLE)}.")
    entries = _all_at_once(plain)
    if entries is not None:
        return entries, np.arange(1, len(entries) + 1)
    return _one_by_one(plain.split(b"\n"), faults)


def _all_at_once(plain: bytes) -> list[Any] | None:
    """All lines as one list, which is much faster; None where they must be looked at one by one.

    Each line begins and ends like an object, and there are as many objects as lines.
    """
    lines = plain.count(b"\n") + 1
    if plain.count(b"}\n{") != lines - 1:
        return None
    try:
        entries: list[Any] = strict_json(b"[" + plain.replace(b"\n", b",") + b"]")
    except BadRequest:
        return None
    return entries if len(entries) == lines else None


def _one_by_one(lines: list[bytes], faults: FaultList) -> tuple[list[Any], NDArray[np.int64]]:
    entries, kept = [], []
    for row, line in enumerate(lines, start=1):
        if not line.strip():
            continue
        try:
            entries.append(strict_json(line, name=NAME))
        except BadRequest as error:
            given = line.decode("utf-8", "replace").strip()[:80]
            faults.lost(Fault(error.detail, row=row, given=given))
            if faults.rows_lost > MOST_BROKEN:
                faults.add([Fault(SOMETHING_ELSE, pointer="#")])
                faults.raise_any()
            continue
        kept.append(row)
    return entries, np.array(kept, dtype=np.int64)
