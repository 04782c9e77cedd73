"""Reception in one sentence: which signals came in at all, told apart from how strong they were."""

from dataclasses import dataclass

from reports import document as doc
from reports import numerals
from reports.language import say
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
        return say("Reception: no signal was scanned.")
    if all(entry.always == entry.scanned for entry in counts):
        return say(
            "Reception: every signal came in with {elements} {where}.",
            elements=_each(speech, counts),
            where=say("in every round")
            if _full(counts)
            else say("wherever it was scanned ({times})", times=_looked_at(speech)),
        )
    if all(entry.never == entry.scanned for entry in counts):
        return say("Reception: no signal came in with any {element}.", element=speech.things.one)
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
    return say("{scanned} of {every} times", scanned=numerals.count(scanned), every=numerals.count(every))


def _each(speech: Speech, counts: list[Received]) -> str:
    number, things = len(counts), speech.things
    if number < len(doc.competing(speech.document)):
        return say("the {elements} scanned", elements=speech.compared(number))
    if number == 1:
        return say("the one {element}", element=things.one)
    if number == 2:
        return say("both {elements}", elements=things.many)
    return say("all {elements}", elements=speech.compared(number))


def _range(speech: Speech, counts: list[Received]) -> str:
    best, worst = max(counts, key=lambda entry: entry.order), min(counts, key=lambda entry: entry.order)
    where = (
        say("in every round")
        if _full(counts)
        else say("whenever scanned ({times})", times=_looked_at(speech))
    )
    if best.order == worst.order:
        return say(
            "Reception: {number} of {scanned} signals came in with {elements} {where}.",
            number=numerals.count(best.always),
            scanned=numerals.count(best.scanned),
            elements=_each(speech, counts),
            where=where,
        )
    alike = worst.scanned == best.scanned
    return say(
        "Reception: {best} received {number} of {scanned} signals {where}, {worst} {fewer}.",
        best=_named(speech, counts, best),
        number=numerals.count(best.always),
        scanned=numerals.count(best.scanned),
        where=where,
        worst=_named(speech, counts, worst),
        fewer=numerals.count(worst.always) if alike else _share(worst),
    )


def _named(speech: Speech, counts: list[Received], like: Received) -> str:
    """The elements that received as much as this one."""
    names = [speech.name(entry.element) for entry in counts if entry.order == like.order]
    return listed(names, most=MOST_NAMED)


def _share(entry: Received) -> str:
    return say("{part} of {whole}", part=numerals.count(entry.always), whole=numerals.count(entry.scanned))


def _chance(speech: Speech) -> str:
    p = speech.document["reception"]["cochran_q"]["p_value"]
    rounds = speech.verdict["rounds_done"]
    if rounds < 2:
        return say("One scan cannot tell such a difference from chance.")
    if p is None:
        return say("Whether that is more than chance cannot be worked out.")
    if p <= 1.0 - speech.trial["confidence"]:
        return say("That is more than chance.")
    return say(
        "Chance alone does that in {number} of 100 such trials, so it is no difference to go by.",
        number=numerals.in_a_hundred(round(p, 2)),
    )
