"""Reception in one sentence: which signals came in at all, told apart from how strong they were."""

from dataclasses import dataclass

from reports import document as doc
from reports import numerals
from reports.wording.speech import Speech, listed

MOST_NAMED = 3


@dataclass(frozen=True)
class Received:
    """How many signals one element received in every round, in some rounds, and in none, of those scanned."""

    element: str
    always: int
    sometimes: int
    never: int

    @property
    def scanned(self) -> int:
        """All signals that were scanned with this element."""
        return self.always + self.sometimes + self.never


def received(document: doc.Document) -> list[Received]:
    """The count for every element that the reception part holds, in the order of the document."""
    return [_received(entry) for entry in document["reception"]["elements"]]


def statement(speech: Speech) -> str:
    """Whether the elements differ in which signals they receive, and whether that is more than chance."""
    everyone = {entry["id"] for entry in doc.competing(speech.document)}
    counts = [entry for entry in received(speech.document) if entry.element in everyone and entry.scanned]
    if not counts:
        return "Reception: no signal was scanned."
    if all(entry.always == entry.scanned for entry in counts):
        return f"Reception: every signal came in with {_each(speech)} in every round."
    if all(entry.never == entry.scanned for entry in counts):
        return f"Reception: no signal came in with any {speech.things.one}."
    return f"{_range(speech, counts)} {_chance(speech)}"


def _received(entry: doc.Entry) -> Received:
    scanned = [cell for cell in entry["rf_channels"] if cell["scanned_rounds"]]
    always = sum(cell["received_rounds"] >= cell["scanned_rounds"] for cell in scanned)
    never = sum(cell["received_rounds"] == 0 for cell in scanned)
    return Received(entry["id"], always, len(scanned) - always - never, never)


def _each(speech: Speech) -> str:
    number, things = len(doc.competing(speech.document)), speech.things
    few = {1: f"the one {things.one}", 2: f"both {things.many}"}
    return few.get(number, f"all {speech.compared(number)}")


def _range(speech: Speech, counts: list[Received]) -> str:
    most, fewest = max(entry.always for entry in counts), min(entry.always for entry in counts)
    of = numerals.count(max(entry.scanned for entry in counts))
    if most == fewest:
        return (
            f"Reception: {numerals.count(most)} of {of} signals came in with {_each(speech)} in every round."
        )
    upper = [speech.name(entry.element) for entry in counts if entry.always == most]
    lower = [speech.name(entry.element) for entry in counts if entry.always == fewest]
    return (
        f"Reception: {listed(upper, most=MOST_NAMED)} received {numerals.count(most)} of {of} signals in "
        f"every round, {listed(lower, most=MOST_NAMED)} {numerals.count(fewest)}."
    )


def _chance(speech: Speech) -> str:
    p = speech.document["reception"]["cochran_q"]["p_value"]
    rounds = speech.verdict["rounds_done"]
    if rounds < 2:
        return "One scan cannot tell such a difference from chance."
    if p is None:
        return "Whether that is more than chance cannot be worked out."
    if p <= 1.0 - speech.trial["confidence"]:
        return "That is more than chance."
    return f"Chance alone does that in {_often(p)}, so it is no difference to go by."


def _often(p: float) -> str:
    return f"{numerals.in_a_hundred(round(p, 2))} of 100 such trials"
