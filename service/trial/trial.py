"""The trial as a value: what was put on the mast, on which meter, by which plan.

`trial_document.trial_from_document` makes a `Trial` from the JSON document and checks it;
`names.with_names_of` adds what only the readings name. `Trial.document` gives the document back with its
defaults filled in.
"""

from dataclasses import dataclass

LOOKS = ("every round", "planned end")
COMPARES = ("element", "height", "aim", "site", "cable", "transformer", "joint")
FORMS = ("wire", "rod", "tube", "strip", "stranded")
REGIONS = ("north_america", "europe", "australia", "japan")
GAUGE_TABLES = ("awg", "steel wire", "swg", "birmingham")


@dataclass(frozen=True)
class Meter:
    """The meter: its unit, the ends of its scale and its step, None where it has none or none is known.

    `needed` (decibel units) is the level at which reception fails, `impedance_ohm` that of the meter's input.
    `resolution_stated` tells a step that the trial gave from the unit's usual one.
    """

    unit: str
    lowest: float | None = None
    highest: float | None = None
    resolution: float | None = None
    needed: float | None = None
    impedance_ohm: float | None = None
    resolution_stated: bool = False


@dataclass(frozen=True)
class Gauge:
    """A wire gauge number and the table it belongs to; `table` is None where only the number is known."""

    table: str | None
    number: int


@dataclass(frozen=True)
class Cost:
    """A price; `currency` is three capital letters (ISO 4217)."""

    amount: float
    currency: str


@dataclass(frozen=True)
class Element:
    """One element under test; an empty `label` becomes the id."""

    id: str
    label: str = ""
    material: str | None = None
    form: str | None = None
    diameter_mm: float | None = None
    length_mm: float | None = None
    gauge: Gauge | None = None
    coating: str | None = None
    condition: str | None = None
    cost: Cost | None = None
    cost_per_metre: Cost | None = None
    minutes_to_make: float | None = None
    twin_of: str | None = None
    pad_of: str | None = None
    pad_db: float | None = None

    def __post_init__(self) -> None:
        if not self.label:
            object.__setattr__(self, "label", self.id)

    @property
    def role(self) -> str:
        """What it is in the trial: "competes", "twin" (negative control) or "pad" (positive control)."""
        if self.twin_of is not None:
            return "twin"
        return "competes" if self.pad_of is None else "pad"

    @property
    def price(self) -> Cost | None:
        """What one costs: its `cost`, else its length at the cost per metre, else None."""
        if self.cost is not None or self.cost_per_metre is None or self.length_mm is None:
            return self.cost
        per_metre = self.cost_per_metre
        return Cost(per_metre.amount * self.length_mm / 1000, per_metre.currency)


@dataclass(frozen=True)
class Channel:
    """A channel as the tuner lists it; `rf_channel` None if nobody said; an empty `label` becomes the id."""

    id: str
    rf_channel: str | None = None
    label: str = ""

    def __post_init__(self) -> None:
        if not self.label:
            object.__setattr__(self, "label", self.id)


@dataclass(frozen=True)
class Strike:
    """A run taken out openly: every report prints the result with and without it."""

    element: str
    round: int
    reason: str


@dataclass(frozen=True)
class KnownRepeatability:
    """A remounting standard deviation known beforehand, in meter units of the score over `rf_channels`."""

    sd: float
    degrees_of_freedom: int
    rf_channels: tuple[str, ...]
    source: str


@dataclass(frozen=True, kw_only=True)
class Trial:
    """A trial with its defaults filled in; `planned_rounds_stated` tells whether the document said them."""

    meter: Meter
    title: str | None = None
    margin: float = 1.0
    confidence: float = 0.95
    planned_rounds: int = 6
    planned_rounds_stated: bool = False
    looks: str = "every round"
    reference: str | None = None
    region: str | None = None
    seed: int = 1
    compares: str = "element"
    elements: tuple[Element, ...] = ()
    channels: tuple[Channel, ...] = ()
    struck: tuple[Strike, ...] = ()
    known_repeatability: KnownRepeatability | None = None
    minutes_per_run: float | None = None
    taken_by: str | None = None
    site: str | None = None

    def document(self) -> dict[str, object]:
        """The trial document with the defaults filled in, JSON-ready.

        Scalars that were not given are None; entries of elements and channels carry what was given and the
        label.
        """
        known = self.known_repeatability
        meter = self.meter
        return {
            "title": self.title,
            "meter": {
                "unit": meter.unit,
                "lowest": meter.lowest,
                "highest": meter.highest,
                "resolution": meter.resolution,
                "needed": meter.needed,
                "impedance_ohm": meter.impedance_ohm,
            },
            "margin": self.margin,
            "confidence": self.confidence,
            "planned_rounds": self.planned_rounds,
            "looks": self.looks,
            "reference": self.reference,
            "region": self.region,
            "seed": self.seed,
            "compares": self.compares,
            "elements": [_given(element) for element in self.elements],
            "channels": [_given(channel) for channel in self.channels],
            "struck": [_given(strike) for strike in self.struck],
            "known_repeatability": None if known is None else _known_document(known),
            "minutes_per_run": self.minutes_per_run,
            "taken_by": self.taken_by,
            "site": self.site,
        }


def _given(entry: Element | Channel | Strike | Gauge | Cost) -> dict[str, object]:
    """The fields of one entry that were given, in order."""
    fields = ((name, getattr(entry, name)) for name in entry.__dataclass_fields__)
    return {
        name: _given(value) if isinstance(value, Gauge | Cost) else value
        for name, value in fields
        if value is not None
    }


def _known_document(known: KnownRepeatability) -> dict[str, object]:
    return {
        "sd": known.sd,
        "degrees_of_freedom": known.degrees_of_freedom,
        "rf_channels": list(known.rf_channels),
        "from": known.source,
    }
