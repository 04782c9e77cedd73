"""The words that follow what is compared (`compares`), what the meter shows (`meter.unit`) and what came out.

`THINGS` and `UNITS` give their words in the spoken language; the words of the other tables are `say`d where
they are used.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import asdict, dataclass
from typing import Final, TypeVar

from reports import document as doc
from reports.language import marked, say, say_number
from reports.numerals import number_of


@dataclass(frozen=True)
class Things:
    """What is compared: one of them, many, what is done to each for a run, and how that is done anew.

    `afresh`, `anew` and `again` are orders to the reader: for each, for the one of this run ("put the element
    on afresh"), for a named one. `repeated` is a fact ("the same element is taken off and put on again").
    """

    one: str
    many: str
    done: str
    afresh: str
    anew: str
    repeated: str
    again: str


@dataclass(frozen=True)
class Unit:
    """What the meter shows: how a level and a difference are written, and what the unit is not."""

    level: str
    many: str
    name: str
    is_not: str


_Words = TypeVar("_Words", bound=Things | Unit)


class Spoken(Mapping[str, _Words]):
    """A table of words that are said, in the language of the moment, when they are looked up.

    The place for a name is left in them, to be filled where they are used.
    """

    def __init__(self, words: Mapping[str, _Words]) -> None:
        self._words: Mapping[str, _Words] = words

    def __getitem__(self, key: str) -> _Words:
        words = self._words[key]
        said = {field: say(text, name="{name}") for field, text in asdict(words).items()}
        return type(words)(**said)

    def __iter__(self) -> Iterator[str]:
        return iter(self._words)

    def __len__(self) -> int:
        return len(self._words)


_THINGS: Final = {
    "element": Things(
        one=marked("element"),
        many=marked("elements"),
        done=marked("put on"),
        afresh=marked("put each element on afresh"),
        anew=marked("put the element on afresh"),
        repeated=marked("the same element is taken off and put on again"),
        again=marked("take {name} off and put it on again"),
    ),
    "height": Things(
        one=marked("height"),
        many=marked("heights"),
        done=marked("set"),
        afresh=marked("set each height afresh"),
        anew=marked("set the height afresh"),
        repeated=marked("the same height is left and set again"),
        again=marked("leave {name} and set it again"),
    ),
    "aim": Things(
        one=marked("aim"),
        many=marked("aims"),
        done=marked("set"),
        afresh=marked("set each aim afresh"),
        anew=marked("set the aim afresh"),
        repeated=marked("the same aim is left and set again"),
        again=marked("turn away from {name} and set it again"),
    ),
    "site": Things(
        one=marked("site"),
        many=marked("sites"),
        done=marked("visited"),
        afresh=marked("set up at each site afresh"),
        anew=marked("set up at the site afresh"),
        repeated=marked("the antenna leaves a site and is set up there again"),
        again=marked("take the antenna away from {name} and set it up there again"),
    ),
    "cable": Things(
        one=marked("cable"),
        many=marked("cables"),
        done=marked("connected"),
        afresh=marked("connect each cable afresh"),
        anew=marked("connect the cable afresh"),
        repeated=marked("the same cable is taken off and connected again"),
        again=marked("take {name} off and connect it again"),
    ),
    "transformer": Things(
        one=marked("transformer"),
        many=marked("transformers"),
        done=marked("connected"),
        afresh=marked("connect each transformer afresh"),
        anew=marked("connect the transformer afresh"),
        repeated=marked("the same transformer is taken off and connected again"),
        again=marked("take {name} off and connect it again"),
    ),
    "joint": Things(
        one=marked("joint"),
        many=marked("joints"),
        done=marked("made"),
        afresh=marked("make each joint afresh"),
        anew=marked("make the joint afresh"),
        repeated=marked("the same joint is undone and made again"),
        again=marked("undo {name} and make it again"),
    ),
}
THINGS: Final = Spoken(_THINGS)

COUNTED: Final[Mapping[str, Callable[[float], str]]] = {
    "element": lambda number: number_of(number, "element", "elements"),
    "height": lambda number: number_of(number, "height", "heights"),
    "aim": lambda number: number_of(number, "aim", "aims"),
    "site": lambda number: number_of(number, "site", "sites"),
    "cable": lambda number: number_of(number, "cable", "cables"),
    "transformer": lambda number: number_of(number, "transformer", "transformers"),
    "joint": lambda number: number_of(number, "joint", "joints"),
}
"""What is compared with its number before it, by the plural forms of the language: "5 elements"."""

_NO_DECIBEL = marked(
    "It is a step of this meter's own scale, not a decibel: it says neither how much stronger a signal is, "
    "nor anything of gain or efficiency."
)
_LEVEL = marked(
    "It is a level at this meter's socket, cable and all: not field strength, gain or efficiency."
)

_UNITS: Final = {
    "bars": Unit(marked("bars"), marked("bars"), marked("bars (the meter's own scale)"), _NO_DECIBEL),
    "percent": Unit(
        "%",
        marked("percentage points"),
        marked("per cent of the meter's scale"),
        _NO_DECIBEL,
    ),
    "dB": Unit(
        *("dB", "dB"),
        marked("dB (a signal-to-noise ratio, or a level against a fixed one)"),
        marked("It is what this meter shows in decibels: not gain or efficiency, and not field strength."),
    ),
    "dBuV": Unit("dB\N{MICRO SIGN}V", "dB", marked("dB over one microvolt"), _LEVEL),
    "dBmV": Unit("dBmV", "dB", marked("dB over one millivolt"), _LEVEL),
    "dBm": Unit("dBm", "dB", marked("dB over one milliwatt"), _LEVEL),
}
UNITS: Final = Spoken(_UNITS)
MEASURED: Final[Mapping[str, Callable[[float, str], str]]] = {
    "bars": lambda number, shown: say_number("{number} bar", "{number} bars", number, number=shown),
    "percent": lambda number, shown: say_number(
        "{number} percentage point", "{number} percentage points", number, number=shown
    ),
}
"""A difference in a unit that is a word, by the plural forms of the language; other units are symbols."""
UNITLESS: Final = frozenset({"bars", "percent"})

OUTCOMES: Final[Mapping[str, str]] = {
    doc.CLEAR: marked("clear winner"),
    doc.WITHIN: marked("within noise"),
    doc.MORE: marked("needs more runs"),
}
"""How a reader is told an outcome."""

LEADS: Final[Mapping[str, str]] = {
    doc.CLEAR: marked("leads"),
    doc.WITHIN: marked("shares the lead"),
    doc.MORE: marked("highest so far, not settled"),
}
"""What is said of the one ahead where only the verdict is shown, by its outcome."""

LOOKS: Final[Mapping[str, str]] = {
    "every round": marked("every round"),
    "planned end": marked("planned end"),
    "once": marked("once"),
}
"""When the rule is asked, by the value that a document holds."""

FORMS: Final[Mapping[str, str]] = {
    "wire": marked("wire"),
    "rod": marked("rod"),
    "tube": marked("tube"),
    "strip": marked("strip"),
    "stranded": marked("stranded"),
}
"""The form of an element, within a phrase: "brass rod"."""
