"""What to do next: the orders, and the rounds and hours behind them."""

from reports import document as doc
from reports import numerals
from reports.view.model import Fact, FactList, Listing, Section
from reports.wording import next_steps, value_pick
from reports.wording.speech import Speech


def section(speech: Speech) -> Section:
    """The orders of the first page with the rounds still needed, their hours, and the cheaper choice."""
    steps, pick = next_steps.sentences(speech), value_pick.sentence(speech)
    return Section(
        anchor="next",
        title="What to do next, in rounds and hours",
        facts=(FactList(tuple(_facts(speech))),),
        lists=(Listing(tuple(steps)),),
        remarks=(f"Value for money: {pick}",) if pick and pick not in steps else (),
    )


def _facts(speech: Speech) -> list[Fact]:
    verdict, planned = speech.verdict, speech.trial["planned_rounds"]
    fewest = verdict["fewest_rounds"]
    facts = [
        Fact("Rounds", f"{numerals.count(verdict['rounds_done'])} done, {numerals.count(planned)} planned"),
        Fact("Rounds still needed", _still_needed(verdict)),
        Fact("Hours for them", _hours(speech)),
    ]
    return [*facts, Fact("Fewest rounds for any verdict", numerals.count(fewest))] if fewest else facts


def _still_needed(verdict: doc.Entry) -> str:
    likely, safe = verdict["more_rounds"], verdict["more_rounds_safe"]
    if verdict["outcome"] != doc.MORE:
        return "none for the trial's question"
    if likely is None:
        return "cannot be told from these rounds"
    perhaps = f", perhaps {numerals.count(safe)}" if safe is not None and safe > likely else ""
    return f"about {numerals.count(likely)}{perhaps}"


def _hours(speech: Speech) -> str:
    hours = speech.verdict["hours"]
    if not hours or hours["per_round"] is None:
        return "not known: no times and no minutes per run were given"
    per_round = f"{numerals.duration(hours['per_round'])} a round"
    if hours["more_rounds"] is None or speech.verdict["outcome"] != doc.MORE:
        return per_round
    safe = hours["more_rounds_safe"]
    perhaps = (
        f", perhaps {numerals.duration(safe)}" if safe is not None and safe > hours["more_rounds"] else ""
    )
    return f"{per_round}; {numerals.duration(hours['more_rounds'])} in all{perhaps}"
