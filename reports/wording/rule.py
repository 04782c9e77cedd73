"""The decision rule in one sentence, with its error rate."""

from reports import document as doc
from reports import numerals
from reports.wording.speech import Speech


def sentence(speech: Speech) -> str:
    """How a winner is named and how often this names a false one; it is the same for each outcome."""
    rate = numerals.in_a_hundred(doc.error_rate(speech.document))
    return (
        "The rule: a winner is named only if the interval for its true difference from every other one lies "
        f"above zero and reaches beyond the {speech.margin()} you would act on; {looked_at(speech)}, this "
        f"names a false winner in at most {rate} of 100 such trials."
    )


def looked_at(speech: Speech) -> str:
    """When the rule is asked: after every round, or at the end of the plan."""
    planned = speech.rounds(speech.trial["planned_rounds"])
    if speech.trial["looks"] == "planned end":
        return f"asked at the planned end, after {planned}"
    return f"asked after every round, with {planned} planned"


def margin_note(speech: Speech) -> str:
    """The margin, also as points of the person's own total where the meter has such a total."""
    channels = len(speech.document["channels"])
    words = f"The smallest difference you would act on is {speech.margin()}"
    if not speech.unitless or channels < 2:
        return f"{words}."
    points = numerals.plain(float(f"{speech.trial['margin'] * channels:.3g}"))
    return f"{words}, about {points} points of the total of {numerals.count(channels)} channels."
