"""What a plan says first: how much there is to do, how likely it settles the question, what it can detect."""

from typing import Final

from reports import document as doc
from reports import numerals
from reports.language import marked, say
from reports.wording.speech import Speech, listed, sentences
from reports.wording.vocabulary import OUTCOMES

MOST_CHANCES = 5


def statement(speech: Speech) -> str:
    """How much there is to do, and what may be expected of it."""
    return sentences(effort(speech), settling(speech), promise(speech))


def effort(speech: Speech) -> str:
    """Rounds, runs and time."""
    plan = speech.document
    if not plan["rounds"]:
        return say("No round is left to run: all that were planned are done.")
    more = numerals.number_of(plan["rounds"], "more round", "more rounds")
    return say(
        "{rounds} of {elements}: {runs} of {minutes}, {time} in all.",
        rounds=more if plan["rounds_done"] else speech.rounds(plan["rounds"]),
        elements=speech.compared(len(plan["elements"])),
        runs=numerals.number_of(len(plan["order"]), "run", "runs"),
        minutes=numerals.minutes(plan["minutes_per_run"]),
        time=numerals.duration(plan["minutes"] / 60),
    )


def settling(speech: Speech) -> str:
    """How likely the rounds to come settle it, given those there are; "" where nothing was run yet."""
    found = speech.document["settling"]
    if found is None:
        return ""
    if found["why"] is not None:
        outcome, thing = say(OUTCOMES[found["outcome"]]), speech.things.one
        return say(_NO_CHANCES[found["why"]], outcome=outcome, thing=thing)
    *earlier, last = found["by_round"]
    shown = [entry for entry in earlier if _cases(entry["chance"]) != "0"][:MOST_CHANCES]
    chances = [
        say("{number} by round {round}", number=_cases(entry["chance"]), round=entry["round"])
        for entry in (*shown, last)
    ]
    return say(
        "Going on from the readings so far, so many of 100 simulated trials come to a verdict (a winner, or "
        "within noise): {chances}.",
        chances=listed(chances, most=MOST_CHANCES + 1),
    )


def promise(speech: Speech) -> str:
    """What difference the plan can detect, and how surely."""
    plan = speech.document
    difference = plan["detectable_difference"]
    if difference is None:
        return "" if _may_settle(plan) else say("No verdict is possible at its end, whatever the readings.")
    return say(
        _PROMISED_GOING_ON if plan["rounds_done"] else _PROMISED,
        rounds=speech.rounds(plan["rounds"] + plan["rounds_done"]),
        thing=speech.things.one,
        ahead=ahead(speech, difference),
        share=numerals.in_a_hundred(plan["chance"]),
    )


_PROMISED: Final = marked("After {rounds}, a best {thing} that is {ahead} is named in {share} of 100 trials.")
_PROMISED_GOING_ON: Final = marked(
    "Leaving the readings so far aside: after {rounds}, a best {thing} that is {ahead} is named in {share} "
    "of 100 trials."
)


def ahead(speech: Speech, difference: float) -> str:
    """So far ahead of all others."""
    return say("{difference} ahead of all others", difference=apart(speech, difference))


def apart(speech: Speech, difference: float) -> str:
    """A difference in the plan's unit, to two digits."""
    number = numerals.two_digits(difference)
    if speech.document["noise"]["sd"] is None:
        return say("{number} run-to-run standard deviations", number=number)
    return speech.measured(number)


def _may_settle(plan: doc.Document) -> bool:
    """Whether continuations of the readings so far, rounds with gaps included, come to a verdict."""
    found = plan["settling"]
    return found is not None and any(entry["chance"] > 0 for entry in found["by_round"])


def _cases(chance: float) -> str:
    """A simulated chance as a whole number of cases in a hundred."""
    return numerals.fixed(100 * chance, 0)


_NO_CHANCES: Final = {
    "settled": marked("The readings so far settle it already: {outcome}. Ask for the verdict."),
    "no noise": marked(
        "The readings so far do not tell how far runs scatter, so how likely the rounds to come lead to a "
        "verdict is not told."
    ),
    "too few runs": marked(
        "Some {thing} has too few runs so far to tell how likely the rounds to come lead to a verdict."
    ),
}
