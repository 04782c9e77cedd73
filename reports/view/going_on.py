"""What to do next: the orders, and the rounds and hours behind them."""

from reports import document as doc
from reports import numerals
from reports.language import say, say_as
from reports.view.model import Fact, FactList, Listing, Section
from reports.wording import next_steps, value_pick
from reports.wording.speech import Speech


def section(speech: Speech) -> Section:
    """The orders of the first page with the rounds still needed, their hours, and the cheaper choice."""
    steps, pick = next_steps.sentences(speech), value_pick.sentence(speech)
    return Section(
        anchor="next",
        title=say("What to do next, in rounds and hours"),
        facts=(FactList(tuple(_facts(speech))),),
        lists=(Listing(tuple(steps)),),
        remarks=(say("Value for money: {pick}", pick=pick),) if pick and pick not in steps else (),
    )


def _facts(speech: Speech) -> list[Fact]:
    verdict, planned = speech.verdict, speech.trial["planned_rounds"]
    fewest, done = verdict["fewest_rounds"], numerals.count(verdict["rounds_done"])
    facts = [
        Fact(
            say("Rounds"), say("{done} done, {planned} planned", done=done, planned=numerals.count(planned))
        ),
        Fact(say("Rounds still needed"), _still_needed(verdict)),
        Fact(say("Hours for them"), _hours(speech)),
    ]
    return [*facts, Fact(say("Fewest rounds for any verdict"), numerals.count(fewest))] if fewest else facts


def _still_needed(verdict: doc.Entry) -> str:
    likely, safe = verdict["more_rounds"], verdict["more_rounds_safe"]
    if verdict["outcome"] != doc.MORE:
        return say_as("number of rounds", "none for the trial's question")
    if likely is None:
        return say("cannot be told from these rounds")
    number = numerals.count(likely)
    if safe is None or safe <= likely:
        return say("about {number}", number=number)
    return say("about {number}, perhaps {more}", number=number, more=numerals.count(safe))


def _hours(speech: Speech) -> str:
    hours = speech.verdict["hours"]
    if not hours or hours["per_round"] is None:
        return say("not known: no times and no minutes per run were given")
    per_round = say("{time} a round", time=numerals.duration(hours["per_round"]))
    if hours["more_rounds"] is None or speech.verdict["outcome"] != doc.MORE:
        return per_round
    likely, safe = hours["more_rounds"], hours["more_rounds_safe"]
    times = {"per_round": per_round, "time": numerals.duration(likely)}
    if safe is None or safe <= likely:
        return say("{per_round}; {time} in all", **times)
    return say("{per_round}; {time} in all, perhaps {longer}", longer=numerals.duration(safe), **times)
