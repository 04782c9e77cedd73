"""The message about an order of runs that was much the same in every round."""

from reports import document as doc
from reports import numerals
from reports.language import say
from reports.wording.cautions import measured
from reports.wording.speech import Speech, listed, sentences

MOST_PLACES = 6


def order_fixed(speech: Speech, evidence: doc.Entry) -> str:
    """The order of the runs was much the same in every round."""
    return sentences(
        _alike(speech, evidence),
        "" if evidence["order_from"] == "times" else say("The order was read from the rows."),
        say(
            "Whatever changes within a round (warmth, the receiver, the weather) then falls on the same "
            "{thing} each time and looks like a difference. Draw a new order for every round.",
            thing=speech.things.one,
        ),
        say(
            "In simulated trials that drifted by half the run-to-run spread from one place to the next, a "
            "fixed order made the rule err in {of_two} of 100 trials of two and in {of_four} of four; with "
            "random orders it kept to the {promised} promised.",
            of_two=measured.FIXED_ORDER_OF_TWO,
            of_four=measured.FIXED_ORDER_OF_FOUR,
            promised=measured.PROMISED,
        ),
    )


def _alike(speech: Speech, evidence: doc.Entry) -> str:
    """Which always came in one place, else how seldom chance makes rounds so alike."""
    always = [
        say(
            "{element} always came in place {place}",
            element=speech.name(entry["element"]),
            place=entry["place"],
        )
        for entry in evidence["always"]
    ]
    if always:
        return f"{listed(always, most=MOST_PLACES)}."
    return say(
        "The order was much the same in every round; chance alone does that with p = {p}.",
        p=numerals.probability(evidence["p_value"]),
    )
