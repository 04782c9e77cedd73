"""Whether the level moved over the trial, in one sentence."""

from reports import document as doc
from reports import numerals
from reports.language import marked, say
from reports.wording.speech import Speech

TOO_FEW = marked("Drift: not followed, because that takes three rounds at least.")


def sentence(speech: Speech) -> str:
    """How far the level moved from the first run to the last, and whether that is more than chance."""
    found = speech.document["drift"]
    if found is None:
        return say(TOO_FEW)
    return say(
        "Drift: {level} {moved}; {worth}.",
        level=followed(speech),
        moved=_went(found["over_trial"], over_trial(speech)),
        worth=_worth(speech),
    )


def followed(speech: Speech) -> str:
    """What the trend is of: the reference, or the level of whole rounds."""
    element = speech.document["drift"]["element"]
    if element is None:
        return say("the level of a whole round")
    return say("{element}, the reference,", element=speech.name(element))


def over_trial(speech: Speech) -> str:
    """How far the trend goes over the trial, without its sign."""
    return speech.amount(
        abs(speech.document["drift"]["over_trial"]), reach_over_trial(speech.document["drift"])
    )


def reach_over_trial(found: doc.Entry) -> float | None:
    """Half the width of the slope's interval, carried over the whole trial; None for a level line."""
    slope = found["slope_per_hour"] if found["slope_per_hour"] is not None else found["slope_per_run"]
    width = numerals.half_width(found["interval"]["low"], found["interval"]["high"])
    return abs(found["over_trial"] / slope) * width if slope and width is not None else None


def _went(change: float, amount: str) -> str:
    if change > 0:
        return say("rose by {amount} over the trial", amount=amount)
    if change < 0:
        return say("fell by {amount} over the trial", amount=amount)
    return say("moved by {amount} over the trial", amount=amount)


def _worth(speech: Speech) -> str:
    found, margin = speech.document["drift"], speech.margin()
    if found["p_value"] > 1.0 - speech.trial["confidence"]:
        often = numerals.in_a_hundred(round(found["p_value"], 2))
        return say("chance alone moves it so far in {number} of 100 such trials", number=often)
    if abs(found["over_trial"]) <= speech.trial["margin"]:
        return say("more than chance, but within the {margin} you would act on", margin=margin)
    return say("more than chance, and more than the {margin} you would act on", margin=margin)
