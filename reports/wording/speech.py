"""What every sentence needs at hand: the document, its words and names, amounts with their unit."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from reports import document as doc
from reports import numerals
from reports.language import marked, say, say_number
from reports.wording.vocabulary import COUNTED, MEASURED, THINGS, UNITLESS, UNITS, Things, Unit

MOST_NAMES = 6
_JOINED = {
    "and": marked("{first} and {last}"),
    "or": marked("{first} or {last}"),
    "or with": marked("{first} or with {last}"),
    "; and": marked("{first}; and {last}"),
}


@dataclass(frozen=True)
class Speech:
    """A document with the words that fit it, in the language spoken when it is made (by `speech_of`)."""

    document: doc.Document
    things: Things
    unit: Unit
    labels: Mapping[str, str]

    @property
    def trial(self) -> doc.Entry:
        """The trial document."""
        return self.document["trial"]  # type: ignore[no-any-return]

    @property
    def verdict(self) -> doc.Entry:
        """The verdict."""
        return self.document["verdict"]  # type: ignore[no-any-return]

    @property
    def unitless(self) -> bool:
        """Whether the meter shows steps of a scale of its own (bars, per cent)."""
        return self.trial["meter"]["unit"] in UNITLESS

    def label(self, element_id: str) -> str:
        """What a reader knows the element as, for tables and pictures."""
        return self.labels[element_id]

    def name(self, element_id: str) -> str:
        """The same within a sentence: quoted where it holds a comma."""
        label = self.labels[element_id]
        return say("“{name}”", name=label) if "," in label else label

    def names(self, element_ids: Iterable[str], *, joined: str = "and") -> str:
        """Several elements as one phrase, the first six by name."""
        return listed([self.name(element_id) for element_id in element_ids], joined=joined)

    def pairs(self, pairs: Iterable[tuple[str, str]], *, most: int = MOST_NAMES) -> str:
        """Several pairs as one phrase: "brass against zinc and brass against steel"."""
        return listed(
            [
                say("{one} against {other}", one=self.name(one), other=self.name(other))
                for one, other in pairs
            ],
            most=most,
        )

    def amount(self, value: float, uncertainty: float | None = None) -> str:
        """A difference with its unit: "0.62 bars"."""
        return self.measured(numerals.estimate(value, uncertainty))

    def span(self, low: float, high: float) -> str:
        """Both ends of an interval with the unit: "0.21 to 0.93 bars"."""
        return say("{number} {unit}", number=numerals.between(low, high), unit=self.unit.many)

    def between(self, low: float, high: float) -> str:
        """Both ends of an interval in a sentence: "between 0.21 and 0.93 bars"."""
        width = numerals.half_width(low, high)
        return say(
            "between {low} and {high} {unit}",
            low=numerals.estimate(low, width),
            high=numerals.estimate(high, width),
            unit=self.unit.many,
        )

    def measured(self, number: str) -> str:
        """A finished number with the unit of a difference."""
        return measured(self.trial["meter"]["unit"], number)

    def seen(self, value: float) -> str:
        """A difference without an uncertainty, with its unit: to a tenth of the meter's step."""
        return self.measured(numerals.seen(value, doc.resolution(self.document)))

    def margin(self) -> str:
        """The smallest difference the reader would act on."""
        return self.amount(self.trial["margin"])

    def rounds(self, number: int) -> str:
        """A number of rounds: "1 round", "6 rounds"."""
        return numerals.number_of(number, "round", "rounds")

    def compared(self, number: int) -> str:
        """A number of what is compared: "5 elements", "2 heights"."""
        return COUNTED[self.trial["compares"]](number)


def speech_of(document: doc.Document) -> Speech:
    """The words for a document; KeyError for a unit or a kind of comparison that has none."""
    trial = document["trial"]
    return Speech(
        document=document,
        things=THINGS[trial["compares"]],
        unit=UNITS[trial["meter"]["unit"]],
        labels=doc.short_labels(document),
    )


def measured(unit: str, number: str) -> str:
    """A finished number with the unit of a meter: "1 bar", "0.62 bars". KeyError for a unit without words."""
    if unit in MEASURED:
        return MEASURED[unit](numerals.counted_as(number), number)
    return say("{number} {unit}", number=number, unit=UNITS[unit].many)


def listed(names: Sequence[object], *, most: int = MOST_NAMES, joined: str = "and") -> str:
    """Names as one phrase: "A, B and C"; beyond `most` the rest is counted ("A, B and 4 more").

    `joined` stands before the last: "and", "or", "or with"; "; and" where names hold an "and" themselves.
    KeyError for another.
    """
    shown = [doc.clean(name) for name in names[:most]]
    if len(names) > most:
        left = len(names) - most
        shown.append(say_number("{number} more", "{number} more", left, number=numerals.count(left)))
    if len(shown) < 2:
        return "".join(shown)
    return say(_JOINED[joined], first=", ".join(shown[:-1]), last=shown[-1])


def sentences(*parts: str) -> str:
    """Sentences after one another, the empty ones left out."""
    return " ".join(part for part in parts if part)
