"""Wire gauges to millimetres. A number without its table may mean up to four diameters.

awg: d = 0.127 mm x 92^((36 - n) / 39) (ASTM B258, NBS Handbook 100; computed and secondary). The other three
are tables in inches, numbers 8 to 18, from comparative wire-gauge tables of which three copies agree; status
secondary.
"""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from service.radio.lengths import MM_PER_INCH

AWG, STEEL_WIRE, SWG, BIRMINGHAM = "awg", "steel wire", "swg", "birmingham"
TABLES: Final = (AWG, STEEL_WIRE, SWG, BIRMINGHAM)
THINNEST_AWG: Final = 40
SOURCES: Final[Mapping[str, tuple[str, str]]] = MappingProxyType(
    {
        AWG: ("ASTM B258; NBS Handbook 100", "computed and secondary"),
        STEEL_WIRE: ("comparative wire-gauge tables, three agreeing copies", "secondary"),
        SWG: ("comparative wire-gauge tables, three agreeing copies", "secondary"),
        BIRMINGHAM: ("comparative wire-gauge tables, three agreeing copies", "secondary"),
    }
)
"""Source and status of each table."""

_FIRST: Final = 8
_INCHES: Final[Mapping[str, tuple[float, ...]]] = MappingProxyType(
    {
        STEEL_WIRE: (0.162, 0.1483, 0.135, 0.1205, 0.1055, 0.0915, 0.08, 0.072, 0.0625, 0.054, 0.0475),
        SWG: (0.16, 0.144, 0.128, 0.116, 0.104, 0.092, 0.08, 0.072, 0.064, 0.056, 0.048),
        BIRMINGHAM: (0.165, 0.148, 0.134, 0.12, 0.109, 0.095, 0.083, 0.072, 0.065, 0.058, 0.049),
    }
)


def gauge_mm(table: str, number: int) -> float | None:
    """The diameter of a gauge number; None where the table does not go there. KeyError for another table."""
    if table == AWG:
        return 0.127 * 92 ** ((36 - number) / 39) if 0 <= number <= THINNEST_AWG else None
    inches = _INCHES[table]
    place = number - _FIRST
    return inches[place] * MM_PER_INCH if 0 <= place < len(inches) else None


def numbers_known(table: str) -> str:
    """Which numbers of a table are known here, in words."""
    return f"0 to {THINNEST_AWG}" if table == AWG else f"{_FIRST} to {_FIRST + len(_INCHES[table]) - 1}"


def meanings_mm(number: int) -> dict[str, float]:
    """What a bare number may mean: its diameter by table, where the table goes there."""
    found = ((table, gauge_mm(table, number)) for table in TABLES)
    return {table: diameter for table, diameter in found if diameter is not None}
