"""What a summary says, part by part: what was tested, what came out, by how much, how sure, what next.

Each part has one or more wordings, the fullest first. Parts that every summary has end in a wording whose
length does not grow with names or numbers of elements; the others are left out where there is no room.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from reports import document as doc
from reports import numerals
from reports.language import say
from reports.wording import limits, next_steps, rule
from reports.wording.speech import Speech
from reports.wording.vocabulary import OUTCOMES

LONGEST_STATEMENT, LONGEST_STEP, LONGEST_NAME, LONGEST_TITLE = 40, 26, 6, 8


@dataclass(frozen=True)
class Part:
    """One part, at its place in the summary; `rank` is the order in which room is given, 0 for a must."""

    rank: int
    wordings: tuple[str, ...]


def words(text: str) -> int:
    """How many words there are: whatever stands between spaces and holds a letter or a digit."""
    return sum(any(sign.isalnum() for sign in part) for part in text.split())


def parts(speech: Speech) -> list[Part]:
    """The parts in the order in which they are read; those that have nothing to say are left out."""
    found = [
        Part(0, tuple(_tested(speech))),
        Part(0, (say("Outcome: {outcome}.", outcome=say(OUTCOMES[speech.verdict["outcome"]])),)),
        Part(0, _within(LONGEST_STATEMENT, speech.verdict["statement"], _brief(speech))),
        Part(2, (_by_how_much(speech),)),
        Part(0, (_how_sure(speech),)),
        Part(1, (_worth_of_one_scan(speech),)),
        Part(3, (next_steps.look_at(speech),)),
        Part(5, (speech.verdict["reception_statement"],)),
        Part(6, (rule.margin_note(speech), _margin(speech))),
        Part(4, (limits.sentences(speech)[0],)),
        Part(7, (limits.sentences(speech)[1],)),
        Part(0, _next(speech)),
    ]
    said = [Part(part.rank, tuple(filter(None, part.wordings))) for part in found]
    return [part for part in said if part.wordings]


def _tested(speech: Speech) -> Iterator[str]:
    number, rounds = len(doc.competing(speech.document)), speech.verdict["rounds_done"]
    signals = numerals.number_of(len(doc.all_signals(speech.document)), "signal", "signals")
    tested = say(
        "{elements} tried in {rounds} on {signals}, read in {unit}.",
        elements=speech.compared(number),
        rounds=speech.rounds(rounds),
        signals=signals,
        unit=speech.unit.level,
    )
    title = doc.clean(speech.trial["title"] or "")
    if title and words(title) <= LONGEST_TITLE:
        yield f"{title}: {tested}"
    yield tested


def _margin(speech: Speech) -> str:
    return say("The smallest difference to act on is {margin}.", margin=speech.margin())


def _within(most: int, *wordings: str) -> tuple[str, ...]:
    """The wordings that are no longer than so many words; the last one in any case."""
    return (*(text for text in wordings[:-1] if words(text) <= most), wordings[-1])


def _name(speech: Speech, element_id: str) -> str:
    """What an element is called, or its number in the table of elements where that is a long story."""
    name = speech.name(element_id)
    if words(name) <= LONGEST_NAME:
        return name
    ids = [entry["id"] for entry in speech.document["elements"]]
    return say(
        "{element} number {number} of the list",
        element=speech.things.one,
        number=ids.index(element_id) + 1,
    )


def _brief(speech: Speech) -> str:
    """The verdict in few words, however long the names are."""
    if speech.verdict["outcome"] == doc.CLEAR:
        return say("{winner} is the best of those tried.", winner=_name(speech, speech.verdict["winner"]))
    if speech.verdict["outcome"] == doc.WITHIN:
        return say(
            "Nothing to choose between the best {elements}: none differs by the {margin} to act on.",
            elements=speech.compared(len(speech.verdict["leading"])),
            margin=speech.margin(),
        )
    return say("It is not settled which of the {elements} is best.", elements=speech.things.many)


def _by_how_much(speech: Speech) -> str:
    """How far the leader is ahead of the closest one so far, with what that leaves open."""
    rivals = [rival for rival in speech.verdict["against"] if rival["difference"] is not None]
    best = doc.leader(speech.document)
    if not rivals or best is None or doc.stops(speech.document) or _not_the_winner(speech, best):
        return ""
    closest = min(rivals, key=lambda rival: rival["difference"])
    pair = _pair(speech, best, closest)
    if speech.verdict["outcome"] == doc.CLEAR:
        return say("On average over all rounds {pair}.", pair=pair)
    within = speech.verdict["outcome"] == doc.WITHIN
    reads = say("On average {pair}", pair=pair) if within else say("So far {pair}", pair=pair)
    if closest["low"] is None:
        return f"{reads}."
    return say(
        "{reads}; the true difference may be {range}.",
        reads=reads,
        range=speech.between(closest["low"], closest["high"]),
    )


def _pair(speech: Speech, best: doc.Entry, closest: doc.Entry) -> str:
    width = numerals.half_width(closest["low"], closest["high"])
    ahead = speech.amount(closest["difference"], width) if width else speech.seen(closest["difference"])
    return say(
        "{element} reads {ahead} above {other}",
        element=_name(speech, best["id"]),
        ahead=ahead,
        other=_name(speech, closest["element"]),
    )


def _not_the_winner(speech: Speech, best: doc.Entry) -> bool:
    """Whether an earlier look named another than the one that is ahead now."""
    return bool(speech.verdict["outcome"] == doc.CLEAR and speech.verdict["winner"] != best["id"])


def _how_sure(speech: Speech) -> str:
    if speech.verdict["outcome"] == doc.MORE:
        open_ = (
            speech.verdict["rounds_done"] > 1 and speech.verdict["against"] and not doc.stops(speech.document)
        )
        return say("That is no verdict yet: chance alone can put one ahead.") if open_ else ""
    rate = numerals.in_a_hundred(doc.error_rate(speech.document))
    if speech.verdict["outcome"] == doc.WITHIN:
        return say("The rule calls equals different in at most {rate} of 100 such trials.", rate=rate)
    return say("The rule names a false winner in at most {rate} of 100 such trials.", rate=rate)


def _worth_of_one_scan(speech: Speech) -> str:
    scan = speech.document["one_scan"]
    return scan["statement"] if scan else ""


def _next(speech: Speech) -> tuple[str, ...]:
    step = next_steps.sentences(speech)[0]
    return _within(LONGEST_STEP, say("Next: {step}", step=step), _brief_step(speech))


def _brief_step(speech: Speech) -> str:
    if speech.verdict["outcome"] == doc.CLEAR:
        return say("Next: use it.")
    if speech.verdict["outcome"] == doc.WITHIN:
        return say("Next: choose by cost or convenience.")
    if doc.stops(speech.document) or doc.reason(speech.document, "no-level") is not None:
        return say("Next: put right what the report names, and run again.")
    return say("Next: run more rounds; in each, {afresh}.", afresh=speech.things.afresh)
