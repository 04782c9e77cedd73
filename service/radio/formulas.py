"""What the losses of a conductor are computed from, with the source of each part and how it was seen."""

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True)
class Formula:
    """A part of the computation; its status says how the source was seen (memory: not looked up)."""

    name: str
    source: str
    status: str

    def document(self) -> dict[str, str]:
        """The formula, JSON-ready."""
        return {"name": self.name, "source": self.source, "status": self.status}


FORMULAS: Final = (
    Formula("constants of nature", "SI 2019, CODATA", "memory"),
    Formula("skin depth and surface resistance", "Wheeler 1942, Proc. IRE 30; texts on fields", "computed"),
    Formula("coated metal", "surface impedance of two layers, texts on fields", "computed"),
    Formula(
        "loop: current and radiation",
        "Fourier series of the thin loop: Storer 1956, Wu 1962, King and Harrison",
        "computed",
    ),
    Formula(
        "dipole: radiation and impedance",
        "Balanis, Antenna Theory, chapters 4 and 8 (equation numbers from memory)",
        "computed",
    ),
    Formula(
        "smallest plausible radiation resistance (100 ohm for loops of 0.9 to 1.4 wavelengths)",
        "the loop series, rounded down with the current taken as large everywhere",
        "computed",
    ),
    Formula(
        "permeability of ferromagnetic metals at VHF and UHF, 1 to 300",
        "Bowler, Frequency-dependence of relative permeability in steel; IEE review (abstracts)",
        "secondary; the bracket is a judgement",
    ),
    Formula(
        "strip: acts on the fields as a round wire of half its width",
        "equivalent radius of a thin strip, a quarter of its width: Balanis, Antenna Theory, chapter 9",
        "memory",
    ),
    Formula("strip and strand, 1 to 2 times a smooth conductor of the same outline", "judgement", "memory"),
    Formula(
        "wire gauges",
        "ASTM B258 and NBS Handbook 100 (awg); comparative wire-gauge tables (the others)",
        "computed (awg); secondary",
    ),
    Formula(
        "zinc: thickness from mass at 7140 kg/m3",
        "density of zinc, handbook value; ISO 1461 divides g/m2 by 7.2",
        "secondary",
    ),
    Formula("inch of 25.4 mm", "international yard and pound, 1959", "memory"),
)
