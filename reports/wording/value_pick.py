"""The cheaper one that is as good, and the quicker to make, in a sentence or two."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from reports import document as doc
from reports import numerals
from reports.language import marked, say
from reports.wording.speech import Speech, listed, sentences

COST, MINUTES = "cost", "minutes to make"


@dataclass(frozen=True)
class _Picked:
    """What is said of the pick: behind the leader, the leader among equals, the leader alone; and what lacks.

    `say`d where it is used.
    """

    behind: str
    shared: str
    alone: str
    unknown: str


_PICKED: Final[Mapping[str, _Picked]] = {
    COST: _Picked(
        behind=marked(
            "{element} is the cheapest of those that are as good: behind the best by less than {margin}, if "
            "at all."
        ),
        shared=marked("{element} leads and is also the cheapest of those that are as good."),
        alone=marked("{element} leads, and none that may be as good is cheaper."),
        unknown=marked("Not considered, for want of a cost: {elements}."),
    ),
    MINUTES: _Picked(
        behind=marked(
            "{element} is the quickest to make of those that are as good: behind the best by less than "
            "{margin}, if at all."
        ),
        shared=marked("{element} leads and is also the quickest to make of those that are as good."),
        alone=marked("{element} leads, and none that may be as good is quicker to make."),
        unknown=marked("Not considered, for want of a time to make: {elements}."),
    ),
}


def cost(entry: doc.Entry) -> str:
    """What an element costs: "4.20 EUR"; "" where that was not given."""
    price = entry["cost"]
    return (
        f"{numerals.fixed(price['amount'], 2)}{numerals.NARROW_SPACE}{doc.clean(price['currency'])}"
        if price
        else ""
    )


def sentence(speech: Speech) -> str:
    """Which one gives as much for less; "" where the document names no reason."""
    pick = speech.document["value_pick"]
    return _BY_REASON[pick["reason"]](speech, pick) if pick else ""


def _alone(speech: Speech, pick: doc.Entry) -> str:
    return say(
        "{element} stands alone: no other is as good, whatever it costs.",
        element=_priced(speech, pick["element"]),
    )


def _stands(speech: Speech, pick: doc.Entry) -> str:
    return say(
        "{element} was settled as the best and that stands, so no other counts as as good, whatever it "
        "costs.",
        element=_priced(speech, pick["element"]),
    )


def _no_costs(speech: Speech, pick: doc.Entry) -> str:
    names = speech.names(pick["undecided"])
    if pick["basis"] == MINUTES:
        return say(
            "The quickest to make that is as good cannot be named: give the minutes of {elements}.",
            elements=names,
        )
    if names:
        first = say(
            "The cheapest that is as good cannot be named: give the cost of {elements}.", elements=names
        )
    else:
        first = say(
            "The cheapest that is as good cannot be named: give the cost of each {thing}.",
            thing=speech.things.one,
        )
    return sentences(first, _quickest(speech, pick))


def _not_settled(speech: Speech, pick: doc.Entry) -> str:
    named = _all_told(speech, pick, pick["undecided"])
    if pick["basis"] == MINUTES:
        if not named:
            return say("Whether one that is quicker to make is as good is not settled yet.")
        return say(
            "Whether one that is quicker to make is as good is not settled yet: {elements}.", elements=named
        )
    if not named:
        return say("Whether a cheaper one is as good is not settled yet.")
    return say("Whether a cheaper one is as good is not settled yet: {elements}.", elements=named)


def _cheapest(speech: Speech, pick: doc.Entry) -> str:
    first = _picked(speech, pick, named=_priced(speech, pick["element"]), words=_PICKED[COST])
    return sentences(first, _open(speech, pick, _PICKED[COST]), _quickest(speech, pick))


def _by_minutes(speech: Speech, pick: doc.Entry) -> str:
    named = f"{speech.name(pick['element'])} ({numerals.minutes(pick['minutes'])})"
    return sentences(
        say("No cost is given, so the time to make it decides."),
        _picked(speech, pick, named=named, words=_PICKED[MINUTES]),
        _open(speech, pick, _PICKED[MINUTES]),
    )


def _picked(speech: Speech, pick: doc.Entry, *, named: str, words: _Picked) -> str:
    """Why it is that one."""
    best = doc.leader(speech.document)
    if best is None or best["id"] != pick["element"]:
        return say(words.behind, element=named, margin=speech.margin())
    shared = any(entry["standing"] == "shares the lead" for entry in doc.competing(speech.document))
    return say(words.shared if shared else words.alone, element=named)


def _quickest(speech: Speech, pick: doc.Entry) -> str:
    """The quickest to make, beside a pick by cost; "" where nobody gave minutes."""
    found = pick["quickest"]
    if found is None or pick["basis"] != COST:
        return ""
    if found["element"] is None:
        return say("Which of them is the quickest to make is not settled or not told.")
    time = numerals.minutes(found["minutes"])
    if found["element"] == pick["element"]:
        return say("It is the quickest to make of them, too ({time}).", time=time)
    return say(
        "The quickest to make of them is {element} ({time}).",
        element=speech.name(found["element"]),
        time=time,
    )


def _open(speech: Speech, pick: doc.Entry, words: _Picked) -> str:
    """Those that may turn out to be as good for less, and those as good of which that is not known."""
    standing = {entry["id"]: entry["standing"] for entry in doc.competing(speech.document)}
    untold = [name for name in pick["undecided"] if standing[name] == "not told apart yet"]
    unknown = [name for name in pick["undecided"] if name not in untold]
    told = _all_told(speech, pick, untold)
    return sentences(
        say("Not settled, and so not considered: {elements}.", elements=told) if untold else "",
        say(words.unknown, elements=speech.names(unknown)) if unknown else "",
    )


def _all_told(speech: Speech, pick: doc.Entry, names: list[str]) -> str:
    """Some with their cost, or with their minutes where these decide."""
    if pick["basis"] != MINUTES:
        return listed([_priced(speech, name, unknown=say("cost not given")) for name in names])
    given = {entry["id"]: entry.get("minutes_to_make") for entry in speech.trial["elements"]}
    told = {
        name: say("time not given") if given[name] is None else numerals.minutes(given[name])
        for name in names
    }
    return listed([f"{speech.name(name)} ({told[name]})" for name in names])


def _priced(speech: Speech, name: str, *, unknown: str = "") -> str:
    """An element with its cost behind it; said where that follows from its length."""
    price = cost(doc.element(speech.document, name)) or unknown
    given = next(entry for entry in speech.trial["elements"] if entry["id"] == name)
    by_length = price and not given.get("cost") and given.get("cost_per_metre")
    behind = say("{price} for its length", price=price) if by_length else price
    return f"{speech.name(name)} ({behind})" if behind else speech.name(name)


_BY_REASON: Final[dict[str, Callable[[Speech, doc.Entry], str]]] = {
    "only the leader": _alone,
    "decision stands": _stands,
    "no costs": _no_costs,
    "not settled": _not_settled,
    "cheapest": _cheapest,
    "quickest": _by_minutes,
}
