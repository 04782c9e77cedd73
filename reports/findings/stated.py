"""What the sections on method say alike: margin, signals, program."""

from collections.abc import Mapping
from typing import Final

from reports import document as doc
from reports import numerals
from reports.language import marked, say
from reports.view.model import Fact
from reports.wording.speech import measured

_FROM: Final[Mapping[str, str]] = {
    "trial": marked("{value}, from the trial"),
    "trials": marked("{value}, from the trials"),
    "question": marked("{value}, from the question"),
}
_WHY: Final[Mapping[str, str]] = {
    "not scanned in every run": marked("not scanned in every run"),
    "nothing received on an unbounded meter": marked("nothing received on an unbounded meter"),
    "same end of the scale in every run": marked("same end of the scale in every run"),
    "not in the level analysis of another trial": marked("not in the level analysis of another trial"),
}


def amount(document: doc.Document, value: float) -> str:
    """A number that was stated, with the unit of the document: "0.5 bars"."""
    return measured(document["unit"], numerals.plain(value))


def taken_from(value: str, whence: str) -> str:
    """A value with where it was taken from; KeyError for a place that has no words."""
    return say(_FROM[whence], value=value)


def margin(document: doc.Document) -> Fact:
    """The margin, and who named it."""
    stated = amount(document, document["margin"])
    return Fact(say("Margin"), taken_from(stated, document["margin_from"]))


def signals(document: doc.Document) -> Fact:
    """How many signals were used."""
    found = document["rf_channels"]
    used, left = (numerals.count(len(found[name])) for name in ("used", "left_out"))
    return Fact(say("Signals"), say("{used} used, {left} left out", used=used, left=left))


def why_left_out(entry: doc.Entry) -> str:
    """Why a signal was left out; KeyError for a reason that has no words."""
    return say(_WHY[entry["why"]])
