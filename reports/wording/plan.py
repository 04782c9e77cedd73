"""Every sentence about a plan: how long it takes, what it can tell, what to do without, what to ask first."""

from typing import Any

from reports import document as doc
from reports import numerals
from reports.wording import plan_cautions
from reports.wording.safety import SAFETY
from reports.wording.speech import Speech, listed, sentences, speech_of

MOST_CHANCES = 5


def complete_plan(document: doc.Document) -> dict[str, Any]:
    """A copy of a plan document with every sentence filled in; sentences already there are kept.

    KeyError for a caution, a unit or a kind of comparison that has no words.
    """
    speech = speech_of(document)
    return {
        **document,
        "cautions": [
            {
                **entry,
                "message": entry["message"]
                or plan_cautions.message(speech, entry["code"], entry["evidence"]),
            }
            for entry in document["cautions"]
        ],
        "safety": list(document["safety"] or SAFETY),
        "statement": document["statement"] or statement(speech),
    }


def statement(speech: Speech) -> str:
    """How much there is to do, and what may be expected of it."""
    return sentences(effort(speech), settling(speech), promise(speech))


def effort(speech: Speech) -> str:
    """Rounds, runs and time."""
    plan = speech.document
    if not plan["rounds"]:
        return "No round is left to run: all that were planned are done."
    more = " more" if plan["rounds_done"] else ""
    runs = numerals.number_of(len(plan["order"]), "run", "runs")
    rounds = numerals.number_of(plan["rounds"], f"{more} round".strip(), f"{more} rounds".strip())
    return (
        f"{rounds} of {speech.compared(len(plan['elements']))}: {runs} of "
        f"{minutes(plan['minutes_per_run'])}, {numerals.duration(plan['minutes'] / 60)} in all."
    )


def settling(speech: Speech) -> str:
    """How likely the rounds to come settle it, given those there are; "" where nothing was run yet."""
    found = speech.document["settling"]
    if found is None:
        return ""
    if found["why"] is not None:
        return _NO_CHANCES[found["why"]].format(outcome=found["outcome"], one=speech.things.one)
    *earlier, last = found["by_round"]
    shown = [entry for entry in earlier if _cases(entry["chance"]) != "0"][:MOST_CHANCES]
    chances = [f"{_cases(entry['chance'])} by round {entry['round']}" for entry in (*shown, last)]
    return (
        "Of 100 simulated continuations of the readings so far, so many come to a verdict, a winner or "
        f"within noise: {listed(chances, most=MOST_CHANCES + 1)}."
    )


def promise(speech: Speech) -> str:
    """What difference the plan can detect, and how surely."""
    plan = speech.document
    difference = plan["detectable_difference"]
    if difference is None:
        return "" if _may_settle(plan) else "No verdict is possible at its end, whatever the readings."
    aside = "Told without the readings so far: after" if plan["rounds_done"] else "After"
    after = f"{aside} {speech.rounds(plan['rounds'] + plan['rounds_done'])}"
    share = numerals.in_a_hundred(plan["chance"])
    best = f"a best {speech.things.one} that is {ahead(speech, difference)}"
    return f"{after}, {best} is named in {share} of 100 trials."


def ahead(speech: Speech, difference: float) -> str:
    """So far ahead of all others."""
    return f"{apart(speech, difference)} ahead of all others"


def apart(speech: Speech, difference: float) -> str:
    """A difference in the plan's unit, to two digits."""
    number = numerals.two_digits(difference)
    if speech.document["noise"]["sd"] is None:
        return f"{number} run-to-run standard deviations"
    return speech.measured(number)


def assumptions(speech: Speech) -> list[str]:
    """What the chances rest on."""
    noise = speech.document["noise"]
    given = (
        "The chances are those of simulated trials, put to the very rule that gives the verdict, looks "
        f"{_looks(speech)} included. In them one {speech.things.one} is ahead of all the others, these are "
        "equal, all are equally noisy, and the noise is bell-shaped."
    )
    if noise["sd"] is not None:
        sd = speech.measured(numerals.two_digits(noise["sd"]))
        return [given, f"The run-to-run standard deviation is taken to be {sd} ({noise['from']})."]
    return [
        given,
        "How far two readings of the same one lie apart from run to run is not known here, so differences "
        "are counted in run-to-run standard deviations, and the margin plays no part.",
    ]


def worthwhile(speech: Speech) -> str:
    """Whether the difference that matters will be seen."""
    found = speech.document["worthwhile"]
    if found["sd_at_most"] is None:
        return ""
    wanted = speech.amount(found["difference"])
    share = numerals.in_a_hundred(speech.document["chance"])
    named = f"A lead of {wanted} ({_whose(found)}) is named in {share} of 100 trials"
    if found["by_round"] is not None:
        return f"{named} after {speech.rounds(found['by_round'])}."
    sd = speech.measured(numerals.two_digits(found["sd_at_most"]))
    return f"{named} only if the run-to-run standard deviation is {sd} or less."


def shorter(speech: Speech) -> list[str]:
    """What leaving out some would bring."""
    return [
        f"Without {speech.names(entry['drop'])}: {speech.rounds(entry['rounds'])} in "
        f"{minutes(entry['minutes'])}, {_detects(speech, entry['detectable_difference'])}."
        for entry in speech.document["shorter"]
    ]


def remount_study(speech: Speech) -> str:
    """Whether remounts of one and a scan of each would do; "" where that is no way."""
    study = speech.document["remount_study"]
    if study is None:
        return ""
    again = speech.things.again.format(name=speech.name(study["element"]))
    then = ", then scan each once" if study["then"] else ""
    fits = "" if study["fits"] else " That is more time than there is."
    return (
        f"The short way: {again}, {numerals.count(study['remounts'])} times with a scan each time{then} "
        f"({minutes(study['minutes'])}). With the spread of these as known_repeatability it settles only "
        f"large differences: {_detects(speech, study['detectable_difference'])}.{fits}"
    )


def minutes(number: float) -> str:
    """A time in minutes as it was given or reckoned."""
    return f"{numerals.plain(number)} {'minute' if number == 1 else 'minutes'}"


def order_rule(speech: Speech) -> str:
    """How the order came about."""
    return (
        "The order was drawn at random so that each comes equally often early and late in a round (seed "
        f"{speech.document['seed']}). Keep to it; a run that fails is repeated at once, and a round is "
        "finished before the next begins."
    )


def fresh(speech: Speech) -> str:
    """What makes a run a new trial of the same thing."""
    return (
        f"For every run {speech.things.afresh.replace('each', 'the')}, also where the same comes twice "
        "running: scans without that are no new evidence."
    )


def _may_settle(plan: doc.Document) -> bool:
    """Whether continuations of the readings so far, rounds with gaps included, come to a verdict."""
    found = plan["settling"]
    return found is not None and any(entry["chance"] > 0 for entry in found["by_round"])


def _cases(chance: float) -> str:
    """A simulated chance as a whole number of cases in a hundred."""
    return numerals.fixed(100 * chance, 0)


_NO_CHANCES = {
    "settled": "The readings so far settle it already: {outcome}. Ask for the verdict.",
    "no noise": "The readings so far do not tell how far runs scatter, so how likely the rounds to come lead "
    "to a verdict is not told.",
    "too few runs": "Some {one} has too few runs so far to tell how likely the rounds to come lead to a "
    "verdict.",
}


def _looks(speech: Speech) -> str:
    return "after every round" if speech.trial["looks"] == "every round" else "at the planned end"


def _whose(found: doc.Entry) -> str:
    return "your margin" if found["from"] == "margin" else "what you find worthwhile"


def _detects(speech: Speech, difference: float | None) -> str:
    if difference is None:
        return "too few for any verdict"
    return f"a winner {ahead(speech, difference)} is named with the same chance"
