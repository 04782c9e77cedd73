"""A design's history with the words of its last trial, whose names it uses."""

from dataclasses import dataclass

from reports import document as doc
from reports import numerals
from reports.dates import day
from reports.language import say, say_number
from reports.wording.direction import higher_or_lower
from reports.wording.speech import Speech
from reports.wording.vocabulary import UNITS


@dataclass(frozen=True)
class HistorySpeech:
    """A history and how to speak of it."""

    document: doc.Document
    speech: Speech

    @property
    def trend(self) -> doc.Entry:
        """The trend over the dates."""
        return self.document["trend"]  # type: ignore[no-any-return]

    @property
    def element(self) -> str:
        """What is followed."""
        return self.speech.name(self.document["element"])

    @property
    def reference(self) -> str:
        """What it is followed through."""
        return self.speech.name(self.document["reference"])

    @property
    def margin(self) -> str:
        """The margin with its unit."""
        return self.speech.amount(self.document["margin"])

    @property
    def level(self) -> str:
        """How sure an interval is."""
        return numerals.per_cent(self.document["confidence"])

    @property
    def dates(self) -> str:
        """How long, from when to when, in how many trials."""
        points = self.document["points"]
        return say(
            "{over_days}, from {first} to {last}, in {number} trials",
            over_days=span(self.trend["span_days"]),
            first=day(points[0]["date"]),
            last=day(points[-1]["date"]),
            number=numerals.count(len(points)),
        )

    def amount(self, value: float, low: float | None, high: float | None) -> str:
        """The size of a change, rounded by its interval: "0.41 bars"."""
        return self.speech.measured(numerals.estimate(abs(value), numerals.half_width(low, high)))

    def between(self, low: float, high: float) -> str:
        """Both ends of a change: "between 0.31 bars lower and 0.12 bars higher"."""
        if low > 0 or high < 0:
            ends = (low, high) if low > 0 else (-high, -low)
            return higher_or_lower(self.speech.between(*ends), low)
        return say(
            "between {low} and {high}",
            low=higher_or_lower(self.amount(low, low, high), low),
            high=higher_or_lower(self.amount(high, low, high), high),
        )

    @property
    def line_ends(self) -> str:
        """How far from its beginning the line through the trials ends."""
        value = self.trend["change"]
        amount = self.amount(value, self.trend["low"], self.trend["high"])
        if not value:
            return say("ends the same as it begins")
        if value > 0:
            return say("ends {amount} higher than it begins", amount=amount)
        return say("ends {amount} lower than it begins", amount=amount)

    @property
    def true_change(self) -> str:
        """Where the true change lies."""
        change = self.between(self.trend["low"], self.trend["high"])
        return say("the true change lies {change} ({level} sure)", change=change, level=self.level)


def per_year(document: doc.Document) -> str:
    """What the same pace makes in a year, the unit in which long changes are told."""
    pace = document["trend"]["per_year"]
    width = numerals.half_width(pace["low"], pace["high"])
    amount = say(
        "{change} {unit} a year",
        change=numerals.signed(pace["change"], width),
        unit=UNITS[document["unit"]].many,
    )
    ends = numerals.between(pace["low"], pace["high"])
    told = f"{amount} ({ends})" if ends else amount
    if document["trend"]["span_days"] < 365:
        return say("{pace}, further than these dates reach", pace=told)
    return told


def span(days: float) -> str:
    """How long the dates reach: "over 402 days"."""
    if days < 1:
        return say("over {time}", time=numerals.duration(24 * days))
    text = numerals.fixed(days, 0)
    return say_number("over {number} day", "over {number} days", 1 if text == "1" else days, number=text)
