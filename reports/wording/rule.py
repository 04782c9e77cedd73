"""The decision rule in one sentence, with its error rate."""

from reports import document as doc
from reports import numerals
from reports.language import say
from reports.wording.speech import Speech


def sentence(speech: Speech) -> str:
    """How a winner is named and how often this names a false one; it is the same for each outcome."""
    return say(
        "The rule: a winner is named only if the interval for its true difference from every other one lies "
        "above zero and reaches beyond the {margin} you would act on; {looked_at}, this names a false winner "
        "in at most {rate} of 100 such trials.",
        margin=speech.margin(),
        looked_at=looked_at(speech),
        rate=numerals.in_a_hundred(doc.error_rate(speech.document)),
    )


def looked_at(speech: Speech) -> str:
    """When the rule is asked: after every round, or at the end of the plan."""
    planned = speech.rounds(speech.trial["planned_rounds"])
    if speech.trial["looks"] == "planned end":
        return say("asked at the planned end, after {rounds}", rounds=planned)
    return say("asked after every round, with {rounds} planned", rounds=planned)


def margin_note(speech: Speech) -> str:
    """The margin, also as points of the person's own total where the meter has such a total."""
    channels = len(speech.document["channels"])
    if not speech.unitless or channels < 2:
        return say("The smallest difference you would act on is {margin}.", margin=speech.margin())
    return say(
        "The smallest difference you would act on is {margin}, about {points} points of the total of "
        "{channels}.",
        margin=speech.margin(),
        points=numerals.plain(float(f"{speech.trial['margin'] * channels:.3g}")),
        channels=numerals.number_of(channels, "channel", "channels"),
    )
