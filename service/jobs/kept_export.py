"""The readings of a kept trial as rows again: JSON, NDJSON or CSV, whole or a page of them.

What is written here is read back by `service.intake` as the same readings.
"""

import csv
import io
import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

import numpy as np
from numpy.typing import NDArray

from service.jobs.kept_material import Material
from service.trial.reading_columns import NO_ROUND, NO_TIME, ReadingColumns
from service.trial.readings_table import TEXT_COLUMNS

ALWAYS = ("element", "channel", "value")
FIELDS = ("element", "round", "channel", "value", "rf_channel", "at", "run", "mounting")
NANOSECONDS = 1_000_000_000


@dataclass(frozen=True)
class Export:
    """A part of the readings in a form, and whether others follow."""

    content: bytes
    rows: int
    more: bool


def export(material: Material, form: str, *, start: int, limit: int | None) -> Export:
    """The readings from `start` on, at most `limit` of them; runs in the calling process.

    form: "json" (a list), "ndjson" or "csv". Fields that no reading of the whole trial has are left out.
    """
    whole = material.columns()
    fields = [name for name in FIELDS if name in ALWAYS or _is_filled(whole, name)]
    end = len(whole) if limit is None else min(start + limit, len(whole))
    page = whole.rows(np.arange(start, max(start, end)))
    columns = [_column(page, name) for name in fields]
    content = _WRITERS[form](fields, columns)
    return Export(content, len(page), more=end < len(whole))


def _is_filled(columns: ReadingColumns, name: str) -> bool:
    nothing = {"round": NO_ROUND, "at": NO_TIME}.get(name, -1)
    return bool((columns.arrays[name] != nothing).any())


def _column(columns: ReadingColumns, name: str) -> list[Any]:
    array = columns.arrays[name]
    if name in TEXT_COLUMNS:
        texts = [*columns.names[name], None]
        return [texts[code] for code in array.tolist()]
    if name == "value":
        return [
            number if known else None
            for number, known in zip(array.tolist(), np.isfinite(array), strict=True)
        ]
    return _by_value(array, _time if name == "at" else _round)


def _by_value(array: NDArray[Any], text: Callable[[int], Any]) -> list[Any]:
    different, place = np.unique(array, return_inverse=True)
    texts = [text(value) for value in different.tolist()]
    return [texts[index] for index in place.tolist()]


def _round(number: int) -> int | None:
    return None if number == NO_ROUND else number


def _time(nanoseconds: int) -> str | None:
    """RFC 3339 in UTC, as many digits of the second as are needed."""
    if nanoseconds == NO_TIME:
        return None
    seconds, rest = divmod(nanoseconds, NANOSECONDS)
    digits = f".{rest:09d}".rstrip("0") if rest else ""
    return f"{np.datetime64(seconds, 's')}{digits}Z"


def _json(fields: Sequence[str], columns: Sequence[list[Any]], *, lines: bool = False) -> bytes:
    rows = (dict(zip(fields, row, strict=True)) for row in zip(*columns, strict=True))
    texts = (json.dumps(row, ensure_ascii=False, allow_nan=False, separators=(",", ":")) for row in rows)
    if lines:
        return "".join(f"{text}\n" for text in texts).encode()
    return f"[{','.join(texts)}]".encode()


def _csv(fields: Sequence[str], columns: Sequence[list[Any]]) -> bytes:
    from service.intake.spreadsheet_text import quoted_text

    file = io.StringIO()
    writer = csv.writer(file, lineterminator="\r\n")
    writer.writerow(fields)
    safe = [
        [None if text is None else quoted_text(text) for text in column] if name in TEXT_COLUMNS else column
        for name, column in zip(fields, columns, strict=True)
    ]
    writer.writerows(zip(*safe, strict=True))
    return file.getvalue().encode()


_WRITERS: dict[str, Callable[[Sequence[str], Sequence[list[Any]]], bytes]] = {
    "json": _json,
    "ndjson": partial(_json, lines=True),
    "csv": _csv,
}
