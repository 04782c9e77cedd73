"""Query parameters. These schemas parse: text becomes numbers here, ranges are the trial's business."""

import math
import re
from collections.abc import Iterable, Mapping
from typing import Any

from marshmallow import ValidationError, fields, validate

from service.api.negotiation import VERDICT_FORMS
from service.api.schemas.closed import ClosedSchema
from service.api.schemas.trial import told
from service.radio.meters import UNIT_NAMES
from service.settings import LOCALES
from service.trial.trial import COMPARES, LOOKS, REGIONS

STRING = {"type": "string"}
_NUMBER = re.compile(r"[+-]?\d{1,20}(\.\d{1,20})?([eE][+-]?\d{1,3})?", re.ASCII)


class NumberText(fields.Float):
    """A decimal number as text, with a point; no other spelling of a number is read."""

    def _deserialize(self, value: Any, *_: Any, **__: Any) -> float:
        number = float(value) if _NUMBER.fullmatch(value) else math.nan
        if not math.isfinite(number):
            raise ValidationError("A decimal number is wanted, with a point: 0.5.")
        return number


class WholeNumberText(fields.Integer):
    """A whole number as text."""

    def _deserialize(self, value: Any, *_: Any, **__: Any) -> int:
        if not re.fullmatch(r"[+-]?\d{1,20}", value, re.ASCII):
            raise ValidationError("A whole number is wanted, in digits: 6.")
        return int(value)


class MarksText(fields.Field[tuple[str, ...]]):
    """Marks as text, separated by commas; loads as a tuple without empty marks."""

    def _deserialize(self, value: Any, *_: Any, **__: Any) -> tuple[str, ...]:
        marks = tuple(mark.strip() for mark in value.split(",") if mark.strip())
        if not marks:
            raise ValidationError("At least one mark is wanted, several separated by commas: -,n/a.")
        return marks


def _choice(values: tuple[str, ...], description: str) -> fields.String:
    return fields.String(metadata={"enum": list(values)} | told(description))


def form_text(forms: Iterable[str]) -> fields.String:
    """The parameter `form`; which of the forms it is, is judged with the Accept header."""
    return fields.String(metadata={"enum": list(forms)} | told("Form of the answer; over Accept."))


def shape_text() -> fields.String:
    """The parameter `shape`."""
    return fields.String(
        load_default="wide",
        validate=validate.OneOf(("wide", "square"), error="Must be wide or square."),
        metadata=told("Shape of the card: 1920 by 1080 or 1080 by 1080 dots."),
    )


def paper_text() -> fields.String:
    """The parameter `paper`; None where it is not given."""
    return fields.String(
        load_default=None,
        validate=validate.OneOf(("a4", "letter"), error="Must be a4 or letter."),
        metadata=told("Paper of the pdf and of the printed html; that of the locale by default."),
    )


def locale_text() -> fields.String:
    """The parameter `locale`; None where it is not given."""
    wrong = f"There are: {', '.join(LOCALES)}."
    return fields.String(
        load_default=None,
        validate=validate.OneOf(LOCALES, error=wrong),
        metadata=told("How numbers and dates of a report are written; the setting LOCALE by default."),
    )


class NoQuerySchema(ClosedSchema):
    """A route that takes no query parameters."""


class VerdictQuerySchema(ClosedSchema):
    """The trial's scalar fields, the marks of the table, and the form of the answer."""

    unit = _choice(UNIT_NAMES, "Unit of the readings.")
    lowest = NumberText(metadata=told("Lowest end of the scale."))
    highest = NumberText(metadata=told("Highest end of the scale."))
    resolution = NumberText(metadata=told("Smallest step that the meter shows."))
    needed = NumberText(metadata=told("Level in dB at which reception fails."))
    impedance_ohm = NumberText(metadata=told("Impedance of the meter's input: joins dBm to dBuV and dBmV."))
    margin = NumberText(metadata=told("Smallest difference you would act on."))
    confidence = NumberText(metadata=told("From 0.80 to 0.99; 0.95 by default."))
    planned_rounds = WholeNumberText(metadata=told("Rounds planned; 6 by default."))
    looks = _choice(LOOKS, "When a verdict is taken.")
    reference = fields.String(metadata=told("The element that is run in every round."))
    region = _choice(REGIONS, "Region of the channel plan.")
    compares = _choice(COMPARES, "What differs between the things compared.")
    title = fields.String(metadata=told("Title of the trial."))
    seed = WholeNumberText(metadata=told("Seed of the random draws; 1 by default."))
    nothing_found = MarksText(metadata=STRING | told("Marks of: scanned, nothing found. Comma between them."))
    not_scanned = MarksText(metadata=STRING | told("Marks of: not scanned. Comma between them."))
    form = form_text(VERDICT_FORMS)
    paper = paper_text()
    locale = locale_text()
    shape = shape_text()


METER_FIELDS = ("unit", "lowest", "highest", "resolution", "needed", "impedance_ohm")
TRIAL_FIELDS = (
    "title",
    "margin",
    "confidence",
    "planned_rounds",
    "looks",
    "reference",
    "region",
    "compares",
    "seed",
)
MARK_FIELDS = ("nothing_found", "not_scanned")


def trial_of_query(query: Mapping[str, Any]) -> dict[str, Any]:
    """The trial document that the parsed query spells out, only what was given."""
    meter = {name: query[name] for name in METER_FIELDS if name in query}
    return {"meter": meter} | {name: query[name] for name in TRIAL_FIELDS if name in query}
