"""The trend of a history in numbers."""

from collections.abc import Mapping
from typing import Final

from reports import document as doc
from reports import numerals
from reports.language import marked, say, say_number
from reports.view.model import Fact, FactList, Section
from reports.wording.history_speech import per_year
from reports.wording.vocabulary import UNITS

_RESTS_ON: Final[Mapping[str, str]] = {
    "between trials": marked("how far the trials lie from the line"),
    "within trials": marked("the noise of the rounds within the trials"),
    "rounding": marked("the step of the meter"),
}


def trend(document: doc.Document) -> Section:
    """The section; KeyError for a width that rests on something that has no words."""
    found, level = document["trend"], numerals.per_cent(document["confidence"])
    facts = (
        Fact(say("Change over the dates"), _change(document)),
        Fact(say("Interval, {level}", level=level), _or_none(numerals.between(found["low"], found["high"]))),
        Fact("p", _or_none(numerals.probability(found["p_value"]))),
        Fact(say("Pace"), per_year(document)),
        Fact(say("Its width rests on"), say(_RESTS_ON[found["rests_on"]])),
        Fact(say("Spread of the trials about the line"), _spread(document)),
        Fact(say("Error of the change from the rounds alone"), _in_units(document, found["within_error"])),
    )
    return Section("trend", say("The trend"), facts=(FactList(facts),))


def _change(document: doc.Document) -> str:
    found = document["trend"]
    width = numerals.half_width(found["low"], found["high"])
    return say(
        "{number} {unit}",
        number=numerals.signed(found["change"], width),
        unit=UNITS[document["unit"]].many,
    )


def _spread(document: doc.Document) -> str:
    found = document["trend"]
    freedom = found["between_degrees_of_freedom"]
    return say_number(
        "{spread}, {number} degree of freedom",
        "{spread}, {number} degrees of freedom",
        freedom,
        spread=_in_units(document, found["between_sd"]),
        number=numerals.count(freedom),
    )


def _in_units(document: doc.Document, value: float) -> str:
    """A quantity that is itself an uncertainty, with the unit."""
    return say("{number} {unit}", number=numerals.two_digits(value), unit=UNITS[document["unit"]].many)


def _or_none(text: str) -> str:
    return text or say("none: nothing varies, or rounding decides")
