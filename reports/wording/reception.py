"""Reception in one sentence: which signals came in at all, told apart from how strong they were."""

from dataclasses import dataclass

from reports import document as doc
from reports import numerals
from reports.wording.speech import Speech, listed

MOST_NAMED = 3


@dataclass(frozen=True)
class Received:
    """How many signals one element received in every round it scanned them, in some of these, and in none.

    `of` is how many signals there are in all; a signal that was never scanned with it is in none of the
    counts. `full` tells whether every signal was scanned in every round.
    """

    element: str
    always: int
    sometimes: int
    never: int
    of: int
    full: bool

    @property
    def scanned(self) -> int:
        """All signals that were scanned with this element."""
        return self.always + self.sometimes + self.never

    @property
    def order(self) -> tuple[float, int]:
        """Sorts by the share received in every round scanned, then by how much was scanned."""
        return self.always / max(1, self.scanned), self.scanned


def received(document: doc.Document) -> list[Received]:
    """The count for every element that the reception part holds, in the order of the document."""
    rounds = document["verdict"]["rounds_done"]
    return [_received(entry, rounds=rounds) for entry in document["reception"]["elements"]]


def statement(speech: Speech) -> str:
    """Whether the elements differ in which signals they receive, and whether that is more than chance.

    Only what was scanned counts, a run that is missing or taken out does not.
    """
    everyone = {entry["id"] for entry in doc.competing(speech.document)}
    counts = [entry for entry in received(speech.document) if entry.element in everyone and entry.scanned]
    if not counts:
        return "Reception: no signal was scanned."
    if all(entry.always == entry.scanned for entry in counts):
        where = "in every round" if _full(counts) else f"wherever it was scanned ({_looked_at(speech)})"
        return f"Reception: every signal came in with {_each(speech, counts)} {where}."
    if all(entry.never == entry.scanned for entry in counts):
        return f"Reception: no signal came in with any {speech.things.one}."
    return f"{_range(speech, counts)} {_chance(speech)}"


def _received(entry: doc.Entry, *, rounds: int) -> Received:
    scanned = [cell for cell in entry["rf_channels"] if cell["scanned_rounds"]]
    always = sum(cell["received_rounds"] >= cell["scanned_rounds"] for cell in scanned)
    never = sum(cell["received_rounds"] == 0 for cell in scanned)
    full = all(cell["scanned_rounds"] >= rounds for cell in entry["rf_channels"])
    of = len(entry["rf_channels"])
    return Received(entry["id"], always, len(scanned) - always - never, never, of, full)


def _full(counts: list[Received]) -> bool:
    return all(entry.full for entry in counts)


def _looked_at(speech: Speech) -> str:
    """How many of all cells were scanned, a cell being one signal in one run."""
    everyone = {entry["id"] for entry in doc.competing(speech.document)}
    entries = [entry for entry in speech.document["reception"]["elements"] if entry["id"] in everyone]
    cells = [cell for entry in entries for cell in entry["rf_channels"]]
    scanned = sum(cell["scanned_rounds"] for cell in cells)
    every = len(cells) * speech.verdict["rounds_done"]
    return f"{numerals.count(scanned)} of {numerals.count(every)} times"


def _each(speech: Speech, counts: list[Received]) -> str:
    number, things = len(counts), speech.things
    if number < len(doc.competing(speech.document)):
        return f"the {speech.compared(number)} scanned"
    few = {1: f"the one {things.one}", 2: f"both {things.many}"}
    return few.get(number, f"all {speech.compared(number)}")


def _range(speech: Speech, counts: list[Received]) -> str:
    best, worst = max(counts, key=lambda entry: entry.order), min(counts, key=lambda entry: entry.order)
    where = "in every round" if _full(counts) else f"whenever scanned ({_looked_at(speech)})"
    if best.order == worst.order:
        return (
            f"Reception: {numerals.count(best.always)} of {numerals.count(best.scanned)} signals came in "
            f"with {_each(speech, counts)} {where}."
        )
    upper = [speech.name(entry.element) for entry in counts if entry.order == best.order]
    lower = [speech.name(entry.element) for entry in counts if entry.order == worst.order]
    of = "" if worst.scanned == best.scanned else f" of {numerals.count(worst.scanned)}"
    return (
        f"Reception: {listed(upper, most=MOST_NAMED)} received {numerals.count(best.always)} of "
        f"{numerals.count(best.scanned)} signals {where}, {listed(lower, most=MOST_NAMED)} "
        f"{numerals.count(worst.always)}{of}."
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
