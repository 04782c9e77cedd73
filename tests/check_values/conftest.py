"""Reads check_values.json: data, the results expected, their source and how closely they must be met."""

import json
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

TABLE = Path(__file__).with_name("check_values.json")
BY_THE_DIGITS_PRINTED = {
    "half a unit of the last digit",
    "half a unit of the last digit printed",
    "as printed",
}


@dataclass(frozen=True)
class CheckValue:
    """One entry of the table, with the data it borrows from others filled in."""

    data: dict
    results: dict
    tolerance: dict

    def expected(self, kind: str, *path: str):
        """A result, "published" or "computed", to be compared with `==` at the entry's tolerance.

        Lists come back as lists, so that each number printed has the tolerance of its own digits.
        """
        value = self.results[kind]
        for step in path:
            value = value[step]
        return approximate(value, self.tolerance[kind])


def approximate(value, tolerance):
    if isinstance(value, list):
        return [approximate(item, tolerance) for item in value]
    if value is None:
        return None
    if tolerance in BY_THE_DIGITS_PRINTED:
        return pytest.approx(value, rel=1e-12, abs=half_a_unit(value))
    if isinstance(tolerance, str) and tolerance.startswith("relative "):
        return pytest.approx(value, rel=float(tolerance.split()[1]), abs=0)
    return pytest.approx(value, rel=0, abs=tolerance)


def half_a_unit(value: float) -> float:
    """Half of the last place of a number as it stands in the table."""
    return 0.5 * 10.0 ** Decimal(repr(value)).as_tuple().exponent


@cache
def entries() -> dict[str, dict]:
    return {entry["id"]: entry for entry in json.loads(TABLE.read_text(encoding="utf-8"))}


def resolved(data: dict) -> dict:
    """The data with `same_as` filled in; several entries borrowed from stand under their own names."""
    source = data.get("same_as")
    own = {name: value for name, value in data.items() if name != "same_as"}
    if source is None:
        return own
    if isinstance(source, list):
        return own | {name: resolved(entries()[name]["data"]) for name in source}
    return resolved(entries()[source]["data"]) | own


@pytest.fixture(scope="session")
def check_value():
    """A function from an entry's id to its `CheckValue`."""

    def load(name: str) -> CheckValue:
        entry = entries()[name]
        return CheckValue(resolved(entry["data"]), entry["results"], entry["tolerance"])

    return load
