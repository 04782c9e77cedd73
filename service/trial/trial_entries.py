"""The lists of the trial document (elements, channels, struck runs) and its known repeatability."""

from collections.abc import Sequence

from service.radio.lengths import EXAMPLES, millimetres
from service.trial.document_fields import Fields
from service.trial.trial import (
    FORMS,
    GAUGE_TABLES,
    Channel,
    Cost,
    Element,
    Gauge,
    KnownRepeatability,
    Strike,
)

WRITTEN_LENGTHS = {"diameter_mm": "diameter", "length_mm": "length"}
"""Lengths in millimetres, and the field in which each may be written with its unit instead."""
ELEMENT_FIELDS = (*Element.__dataclass_fields__, *WRITTEN_LENGTHS.values())
CHANNEL_FIELDS = ("id", "rf_channel", "label")
STRIKE_FIELDS = ("element", "round", "reason")
COST_FIELDS = ("amount", "currency")
GAUGE_FIELDS = ("table", "number")
KNOWN_FIELDS = ("sd", "degrees_of_freedom", "rf_channels", "from")

HIGHEST_ROUND = 9999
HIGHEST_GAUGE = 60
LARGEST_DIAMETER_MM = 1_000
LARGEST_LENGTH_MM = 100_000
LARGEST_COST = 1e9
LARGEST_PAD_DB = 60
MINUTES_OF_A_WEEK = 10_080
MOST_DEGREES_OF_FREEDOM = 1_000_000


def elements(trial: Fields, *, most: int) -> tuple[Element, ...]:
    """The elements, one for each entry; an id that is faulty or stands twice is noted."""
    entries = trial.list_of("elements", ELEMENT_FIELDS, most=most)
    currencies: set[str] = set()
    found = [element(entry, currencies) for entry in entries]
    _note_repeats(entries, [element.id for element in found], "id", "An element of this id stands above.")
    return tuple(found)


def element(entry: Fields, currencies: set[str]) -> Element:
    """One element; `currencies` holds the currency that all costs are in, once one was named."""
    _check_controls(entry)
    return Element(
        id=entry.name("id", required=True) or "",
        label=entry.name("label") or "",
        material=entry.name("material"),
        form=entry.choice("form", FORMS),
        diameter_mm=length_of(entry, "diameter_mm", LARGEST_DIAMETER_MM),
        length_mm=length_of(entry, "length_mm", LARGEST_LENGTH_MM),
        gauge=_gauge(entry),
        coating=entry.name("coating"),
        condition=entry.name("condition"),
        cost=_cost(entry, "cost", currencies),
        cost_per_metre=_cost(entry, "cost_per_metre", currencies),
        minutes_to_make=entry.number("minutes_to_make", 0, MINUTES_OF_A_WEEK),
        twin_of=entry.name("twin_of"),
        pad_of=entry.name("pad_of"),
        pad_db=entry.number("pad_db", 0, LARGEST_PAD_DB, above=True),
    )


def length_of(entry: Fields, name: str, most: float) -> float | None:
    """A length in millimetres, given as a number in `name` or with its unit in the field beside it."""
    written = WRITTEN_LENGTHS[name]
    if entry.has(name) and entry.has(written):
        entry.fault(written, f"Give {written}, with its unit, or {name}, not both.")
        return None
    if entry.is_text(name):
        entry.fault(name, f"Give millimetres without quotes, or {written} with its unit, such as {EXAMPLES}.")
        return None
    if not entry.has(written):
        return entry.number(name, 0, most, above=True)
    text = entry.name(written)
    found = None if text is None else millimetres(text)
    if text is not None and found is None:
        entry.fault(
            written,
            f"Give a length with its unit (mm, cm, m, in, ft), such as {EXAMPLES}; a decimal point, no "
            "comma; below 12 inches beside feet. A wire gauge goes into gauge, with its table.",
        )
    elif found is not None and not 0 < found <= most:
        entry.fault(written, f"Give a length above 0 up to {most:g} mm; this is {found:g} mm.")
        return None
    return found


def _check_controls(entry: Fields) -> None:
    """Fields of an element that exclude or need each other."""
    if entry.has("twin_of") and entry.has("pad_of"):
        entry.fault("pad_of", "An element is a twin or a pad, not both; take one of twin_of and pad_of away.")
    if entry.has("pad_of") and not entry.has("pad_db"):
        entry.fault("pad_db", "A pad needs its attenuation: give pad_db in dB.")
    if entry.has("pad_db") and not entry.has("pad_of"):
        entry.fault("pad_db", "An attenuation belongs to a pad: name the element in line with it in pad_of.")
    if entry.has("cost") and entry.has("cost_per_metre"):
        entry.fault("cost_per_metre", "Give the cost or the cost per metre, not both.")


def _gauge(entry: Fields) -> Gauge | None:
    fields = entry.nested("gauge", GAUGE_FIELDS)
    number = None if fields is None else fields.whole("number", 0, HIGHEST_GAUGE, required=True)
    table = None if fields is None else fields.choice("table", GAUGE_TABLES)
    return None if number is None else Gauge(table, number)


def _cost(entry: Fields, name: str, currencies: set[str]) -> Cost | None:
    """A price; `currencies` holds the one that the first price named, for costs are compared."""
    fields = entry.nested(name, COST_FIELDS)
    if fields is None:
        return None
    amount = fields.number("amount", 0, LARGEST_COST, required=True)
    currency = fields.name("currency", required=True)
    if amount is None or currency is None:
        return None
    if not (len(currency) == 3 and currency.isascii() and currency.isalpha() and currency.isupper()):
        fields.fault("currency", "Give the three capital letters of the currency, such as EUR.")
        return None
    if currencies and currency not in currencies:
        fields.fault("currency", f"Costs are compared, so give all of them in {min(currencies)}.")
    currencies.add(currency)
    return Cost(amount, currency)


def channels(trial: Fields, *, most: int) -> tuple[Channel, ...]:
    """The channels, one for each entry; an id that is faulty or stands twice is noted."""
    entries = trial.list_of("channels", CHANNEL_FIELDS, most=most)
    found = [_channel(entry) for entry in entries]
    _note_repeats(entries, [channel.id for channel in found], "id", "A channel of this id stands above.")
    return tuple(found)


def _channel(entry: Fields) -> Channel:
    return Channel(
        id=entry.name("id", required=True) or "",
        rf_channel=entry.name("rf_channel"),
        label=entry.name("label") or "",
    )


def struck(trial: Fields, *, most: int) -> tuple[Strike, ...]:
    """The runs taken out, each with its reason; "" and 0 stand for an element and a round that are faulty."""
    entries = trial.list_of("struck", STRIKE_FIELDS, most=most)
    found = [
        Strike(
            element=entry.name("element", required=True) or "",
            round=entry.whole("round", 1, HIGHEST_ROUND, required=True) or 0,
            reason=entry.name("reason", required=True) or "",
        )
        for entry in entries
    ]
    runs = [f"{strike.round} {strike.element}" if strike.element and strike.round else "" for strike in found]
    _note_repeats(entries, runs, "round", "This run is struck already; take one of the two entries away.")
    return tuple(found)


def known_repeatability(trial: Fields, largest: float) -> KnownRepeatability | None:
    """The repeatability known beforehand; `largest` is the width of the scale."""
    fields = trial.nested("known_repeatability", KNOWN_FIELDS)
    if fields is None:
        return None
    return KnownRepeatability(
        sd=fields.number("sd", 0, largest, above=True, required=True) or 0.0,
        degrees_of_freedom=fields.whole("degrees_of_freedom", 1, MOST_DEGREES_OF_FREEDOM, required=True) or 0,
        rf_channels=fields.names("rf_channels") or (),
        source=fields.name("from", required=True) or "",
    )


def _note_repeats(entries: Sequence[Fields], keys: Sequence[str], name: str, detail: str) -> None:
    seen: set[str] = set()
    for entry, key in zip(entries, keys, strict=True):
        if key and key in seen:
            entry.fault(name, detail)
        seen.add(key)
