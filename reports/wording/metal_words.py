"""What the service says of the metals it knows, in the spoken language.

Addresses of sources, alloys and numbers are the same in every language.
"""

from typing import Final

from reports.document import clean
from reports.language import marked, say

_METALS: Final = (
    marked("silver"),
    marked("copper"),
    marked("pure copper"),
    marked("gold"),
    marked("aluminium"),
    marked("aluminium wire"),
    marked("aluminium 6063"),
    marked("aluminium 6061"),
    marked("zinc"),
    marked("brass"),
    marked("phosphor bronze"),
    marked("nickel"),
    marked("iron"),
    marked("tin"),
    marked("steel"),
    marked("stainless steel"),
)
_SOURCES: Final = (
    marked("bulk metal at 293 K, handbook value (CRC Handbook; Matula 1979, J. Phys. Chem. Ref. Data 8)"),
    marked(
        "bulk metal at 293 K, handbook value (CRC Handbook; Matula 1979, J. Phys. Chem. Ref. Data 8); some "
        "tables print 2.44e-8"
    ),
    marked("annealed copper, IEC 60028 (1/58 ohm mm2/m); NBS Handbook 100 (1966)"),
    marked("61 % IACS (NBS Handbook 109, 1972)"),
    marked("about 52 to 55 % IACS, alloy data"),
    marked("temper T6, about 43 % IACS, alloy data"),
    marked("70/30, about 28 % IACS; tables give 5.9e-8 (58 % Cu) to 7.1e-8 (63 % Cu)"),
    marked("5 % tin (C51000), about 15 % IACS, alloy data"),
    marked("1010 carbon steel, tabulated; cast steel 1.61e-7"),
    marked("austenitic stainless steel 304, 6.9e-7 to 7.2e-7"),
)
_STATUS: Final = (
    marked("memory"),
    marked("memory; 1.59e-8 secondary"),
    marked("memory; 6.99e-8 secondary"),
    marked("memory; 9.58e-8 to 1.0e-7 secondary"),
    marked("secondary"),
    marked("secondary and computed"),
    marked("secondary (1.68e-8)"),
    marked("secondary (6.9e-7)"),
    marked("secondary (range)"),
)
_NOTES: Final = (
    marked("This is pure aluminium; an alloy has more resistance (aluminium 6063, aluminium 6061)."),
    marked("Phosphor bronze with less tin has less resistance."),
    marked("Its permeability at VHF and UHF is not known: taken as 1 to 300, a judgement."),
    marked("Its permeability is about 1 annealed and rises when cold drawn: taken as 1 to 10, a judgement."),
)
KNOWN: Final = frozenset((*_METALS, *_SOURCES, *_STATUS, *_NOTES))


def said(text: str) -> str:
    """A name, source, status or note of a metal in the spoken language; one that is not known as it is."""
    return say(text) if text in KNOWN else clean(text)
