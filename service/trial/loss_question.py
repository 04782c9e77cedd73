"""The question what conductor loss alone could explain, as it comes in: checked, every fault told."""

from collections.abc import Mapping
from dataclasses import dataclass

from service.errors import BadInput, Fault
from service.radio.antenna import KINDS
from service.radio.channel_plan import REGIONS, ChannelPlan, channel_plan
from service.radio.conductor import Conductor
from service.trial import trial_entries
from service.trial.document_fields import Fields
from service.trial.element_conductor import conductor_of
from service.trial.trial import Element

FIELDS = ("first", "second", "region", "rf_channels", "frequencies_mhz", "antenna", "load_ohm")
ANTENNA_FIELDS = ("kind", "length_mm", "length")
LOWEST_MHZ, HIGHEST_MHZ = 1.0, 10_000.0
MOST_FREQUENCIES = 200
USUAL_LOAD_OHM = 300.0
HIGHEST_LOAD_OHM = 10_000.0
LONGEST_TEXT = 200


@dataclass(frozen=True)
class LossQuestion:
    """Two conductors of one antenna, and where they are to be compared.

    `frequencies` are pairs of RF channel (None where a frequency was given) and MHz.
    """

    names: tuple[str, str]
    conductors: tuple[Conductor, Conductor]
    kind: str
    load_ohm: float
    frequencies: tuple[tuple[str | None, float], ...]


def loss_question(document: object) -> LossQuestion:
    """The question that the document asks. Raises BadInput with every fault, each with its JSON pointer."""
    if not isinstance(document, Mapping):
        raise BadInput([Fault(f"Give an object with the fields {', '.join(FIELDS)}.", pointer="#")])
    faults: list[Fault] = []
    fields = Fields(_named(document), (), faults=faults, longest=LONGEST_TEXT)
    fields.only(FIELDS)
    kind, length = _antenna(fields)
    first, second = (_conductor(fields, name, length) for name in ("first", "second"))
    load = fields.number("load_ohm", 0, HIGHEST_LOAD_OHM, above=True)
    frequencies = _frequencies(fields)
    if faults or first is None or second is None or kind is None:
        raise BadInput(faults)
    return LossQuestion(
        names=(first[0].label, second[0].label),
        conductors=(first[1], second[1]),
        kind=kind,
        load_ohm=USUAL_LOAD_OHM if load is None else load,
        frequencies=frequencies,
    )


def _named(document: Mapping[str, object]) -> Mapping[str, object]:
    """The document with an id for an element that has none: it is asked about, not put into a trial."""
    named = dict(document)
    for name in ("first", "second"):
        given = named.get(name)
        if isinstance(given, Mapping):
            named[name] = {"id": name, **given}
    return named


def _antenna(fields: Fields) -> tuple[str | None, float | None]:
    antenna = fields.nested("antenna", ANTENNA_FIELDS)
    if antenna is None:
        if not fields.has("antenna"):
            fields.fault("antenna", f"This is required: give its kind, one of {', '.join(KINDS)}.")
        return None, None
    length = trial_entries.length_of(antenna, "length_mm", trial_entries.LARGEST_LENGTH_MM)
    return antenna.choice("kind", KINDS, required=True), length


def _conductor(fields: Fields, name: str, length_mm: float | None) -> tuple[Element, Conductor] | None:
    entry = fields.nested(name, trial_entries.ELEMENT_FIELDS)
    if entry is None:
        if not fields.has(name):
            fields.fault(name, "This is required: an element with its material, diameter_mm and length_mm.")
        return None
    element = trial_entries.element(entry, set())
    conductor = conductor_of(element, length_mm=length_mm)
    if isinstance(conductor, Conductor):
        return element, conductor
    for wanting in conductor:
        # A field that was given but could not be used has its fault already.
        written = trial_entries.WRITTEN_LENGTHS.get(wanting.field, wanting.field)
        given = entry.has(wanting.field) or entry.has(written)
        if not given or getattr(element, wanting.field) is not None:
            entry.fault(wanting.field, wanting.detail)
    return None


def _frequencies(fields: Fields) -> tuple[tuple[str | None, float], ...]:
    if fields.has("rf_channels") == fields.has("frequencies_mhz"):
        fields.fault("rf_channels", "Give either rf_channels, with their region, or frequencies_mhz.")
        return ()
    region = fields.choice("region", REGIONS, required=fields.has("rf_channels"))
    if fields.has("frequencies_mhz"):
        found = fields.numbers("frequencies_mhz", LOWEST_MHZ, HIGHEST_MHZ, longest=MOST_FREQUENCIES)
        return tuple((None, frequency) for frequency in found or ())
    names = fields.names("rf_channels")
    if region is None or names is None:
        return ()
    if len(names) > MOST_FREQUENCIES:
        fields.fault("rf_channels", f"Give at most {MOST_FREQUENCIES} RF channels.")
        return ()
    return tuple(_planned(fields, channel_plan(region), names))


def _planned(fields: Fields, plan: ChannelPlan, names: tuple[str, ...]) -> list[tuple[str | None, float]]:
    found: list[tuple[str | None, float]] = []
    for name in names:
        channel = plan.channel(name)
        if channel is None:
            fields.fault("rf_channels", plan.refusal(name))
        else:
            found.append((channel.rf_channel, channel.centre_mhz))
    return found
