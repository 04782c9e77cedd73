"""What the service says of the metals it knows, in the spoken language, by the code of each.

Addresses of sources, alloys and numbers are the same in every language.
"""

from collections.abc import Mapping
from dataclasses import astuple, dataclass
from typing import Final

from reports import document as doc
from reports.language import marked, say


@dataclass(frozen=True)
class Metal:
    """What is told of a metal; `note` is "" where there is none."""

    name: str
    source: str
    status: str
    note: str = ""


_BULK: Final = marked(
    "bulk metal at 293 K, handbook value (CRC Handbook; Matula 1979, J. Phys. Chem. Ref. Data 8)"
)
_BRACKETED: Final = marked("Its permeability at VHF and UHF is not known: taken as 1 to 300, a judgement.")
METALS: Final[Mapping[str, Metal]] = {
    "silver": Metal(marked("silver"), _BULK, marked("memory; 1.59e-8 secondary")),
    "copper": Metal(
        marked("copper"),
        marked("annealed copper, IEC 60028 (1/58 ohm mm2/m); NBS Handbook 100 (1966)"),
        marked("secondary and computed"),
    ),
    "pure-copper": Metal(marked("pure copper"), _BULK, marked("secondary (1.68e-8)")),
    "gold": Metal(
        marked("gold"),
        marked(
            "bulk metal at 293 K, handbook value (CRC Handbook; Matula 1979, J. Phys. Chem. Ref. Data 8); "
            "some tables print 2.44e-8"
        ),
        marked("memory"),
    ),
    "aluminium": Metal(
        marked("aluminium"),
        _BULK,
        marked("secondary"),
        marked("This is pure aluminium; an alloy has more resistance (aluminium 6063, aluminium 6061)."),
    ),
    "aluminium-wire": Metal(
        marked("aluminium wire"),
        marked("61 % IACS (NBS Handbook 109, 1972)"),
        marked("secondary and computed"),
    ),
    "aluminium-6063": Metal(
        marked("aluminium 6063"), marked("about 52 to 55 % IACS, alloy data"), marked("memory")
    ),
    "aluminium-6061": Metal(
        marked("aluminium 6061"), marked("temper T6, about 43 % IACS, alloy data"), marked("memory")
    ),
    "zinc": Metal(marked("zinc"), _BULK, marked("secondary")),
    "brass": Metal(
        marked("brass"),
        marked("70/30, about 28 % IACS; tables give 5.9e-8 (58 % Cu) to 7.1e-8 (63 % Cu)"),
        marked("secondary (range)"),
    ),
    "phosphor-bronze": Metal(
        marked("phosphor bronze"),
        marked("5 % tin (C51000), about 15 % IACS, alloy data"),
        marked("memory"),
        marked("Phosphor bronze with less tin has less resistance."),
    ),
    "nickel": Metal(marked("nickel"), _BULK, marked("memory; 6.99e-8 secondary"), _BRACKETED),
    "iron": Metal(marked("iron"), _BULK, marked("memory; 9.58e-8 to 1.0e-7 secondary"), _BRACKETED),
    "tin": Metal(marked("tin"), _BULK, marked("secondary")),
    "steel": Metal(
        marked("steel"),
        marked("1010 carbon steel, tabulated; cast steel 1.61e-7"),
        marked("secondary"),
        _BRACKETED,
    ),
    "stainless-steel": Metal(
        marked("stainless steel"),
        marked("austenitic stainless steel 304, 6.9e-7 to 7.2e-7"),
        marked("secondary (6.9e-7)"),
        marked(
            "Its permeability is about 1 annealed and rises when cold drawn: taken as 1 to 10, a judgement."
        ),
    ),
}


def said(entry: doc.Entry) -> Metal:
    """A metal's words in the spoken language; the entry's own English where its code is not known."""
    known = METALS.get(entry.get("code", ""))
    if known is None:
        return Metal(*(doc.clean(entry[name]) for name in ("name", "source", "status", "note")))
    return Metal(*(say(text) if text else "" for text in astuple(known)))
