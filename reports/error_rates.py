"""The error rates that the calibration study measured, read from the file that the study writes.

They are of the rule, not of a trial: every report prints the same ones.
"""

import json
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Final

FILE: Final = Path(__file__).with_name("error_rates.json")
Range = tuple[float, float]


@dataclass(frozen=True)
class Kind:
    """One kind of noise: the fewest and the most wrong trials, as shares, over all its simulated designs.

    `elements` are the numbers of elements tried; `called` the shares in which some pair of equals was called
    different, `named` those in which a false winner was named; `within` says whether each was within the
    promise as far as chance allows.
    """

    noise: str
    elements: tuple[int, ...]
    called: Range
    named: Range
    promise: float
    within: bool


@dataclass(frozen=True)
class ErrorRates:
    """What was measured, by kind of noise: where the promise is made, and beyond it."""

    made_by: str
    trials: int
    promised: tuple[Kind, ...]
    beyond: tuple[Kind, ...]


@cache
def error_rates(path: Path = FILE) -> ErrorRates:
    """The measured rates; KeyError where the file lacks a field."""
    read = json.loads(path.read_text(encoding="utf-8"))
    return ErrorRates(
        made_by=read["made_by"],
        trials=read["trials"],
        promised=tuple(_kinds(read["rows"])),
        beyond=tuple(_kinds(read["beyond"])),
    )


def _kinds(rows: list[dict[str, Any]]) -> Iterable[Kind]:
    """The rows of each noise together, in the order in which the noises first come."""
    for noise in dict.fromkeys(row["noise"] for row in rows):
        yield _kind(noise, [row for row in rows if row["noise"] == noise])


def _kind(noise: str, rows: list[dict[str, Any]]) -> Kind:
    return Kind(
        noise=noise,
        elements=tuple(sorted({row["elements"] for row in rows})),
        called=_range(row["pair_falsely_called"] for row in rows),
        named=_range(row["winner_falsely_named"] for row in rows),
        promise=max(row["promise"] for row in rows),
        within=all(row["within_promise"] for row in rows),
    )


def _range(shares: Iterable[float]) -> Range:
    known = list(shares)
    return min(known), max(known)
