"""The cheaper one that is as good, and the quicker to make, in a sentence or two."""

from collections.abc import Callable
from typing import Final

from reports import document as doc
from reports import numerals
from reports.wording.speech import Speech, listed, sentences

COST, MINUTES = "cost", "minutes to make"


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
    return f"{_priced(speech, pick['element'])} stands alone: no other is as good, whatever it costs."


def _stands(speech: Speech, pick: doc.Entry) -> str:
    return (
        f"{_priced(speech, pick['element'])} was settled as the best and that stands, so no other counts as "
        "as good, whatever it costs."
    )


def _no_costs(speech: Speech, pick: doc.Entry) -> str:
    if pick["basis"] == MINUTES:
        whose = speech.names(pick["undecided"])
        return f"The quickest to make that is as good cannot be named: give the minutes of {whose}."
    whose = speech.names(pick["undecided"]) if pick["undecided"] else f"each {speech.things.one}"
    first = f"The cheapest that is as good cannot be named: give the cost of {whose}."
    return sentences(first, _quickest(speech, pick))


def _not_settled(speech: Speech, pick: doc.Entry) -> str:
    one = "one that is quicker to make" if pick["basis"] == MINUTES else "a cheaper one"
    named = f": {_all_told(speech, pick, pick['undecided'])}" if pick["undecided"] else ""
    return f"Whether {one} is as good is not settled yet{named}."


def _cheapest(speech: Speech, pick: doc.Entry) -> str:
    named = _priced(speech, pick["element"])
    first = _picked(speech, pick, named, ("the cheapest", "cheaper"))
    return sentences(first, _open(speech, pick, "cost"), _quickest(speech, pick))


def _by_minutes(speech: Speech, pick: doc.Entry) -> str:
    named = f"{speech.name(pick['element'])} ({_minutes(pick['minutes'])})"
    first = _picked(speech, pick, named, ("the quickest to make", "quicker to make"))
    return sentences(
        "No cost is given, so the time to make it decides.", first, _open(speech, pick, "time to make")
    )


def _picked(speech: Speech, pick: doc.Entry, named: str, words: tuple[str, str]) -> str:
    """Why it is that one; the words are "the cheapest" and "cheaper", or as they are for the time."""
    best, (least, less) = doc.leader(speech.document), words
    shared = any(entry["standing"] == "shares the lead" for entry in doc.competing(speech.document))
    if best is None or best["id"] != pick["element"]:
        return (
            f"{named} is {least} of those that are as good: behind the best by less than {speech.margin()}, "
            "if at all."
        )
    if shared:
        return f"{named} leads and is also {least} of those that are as good."
    return f"{named} leads, and none that may be as good is {less}."


def _quickest(speech: Speech, pick: doc.Entry) -> str:
    """The quickest to make, beside a pick by cost; "" where nobody gave minutes."""
    found = pick["quickest"]
    if found is None or pick["basis"] != COST:
        return ""
    if found["element"] is None:
        return "Which of them is the quickest to make is not settled or not told."
    if found["element"] == pick["element"]:
        return f"It is the quickest to make of them, too ({_minutes(found['minutes'])})."
    return f"The quickest to make of them is {speech.name(found['element'])} ({_minutes(found['minutes'])})."


def _open(speech: Speech, pick: doc.Entry, wanted: str) -> str:
    """Those that may turn out to be as good for less, and those as good of which that is not known."""
    standing = {entry["id"]: entry["standing"] for entry in doc.competing(speech.document)}
    untold = [name for name in pick["undecided"] if standing[name] == "not told apart yet"]
    unknown = [name for name in pick["undecided"] if name not in untold]
    return sentences(
        f"Not settled, and so not considered: {_all_told(speech, pick, untold)}." if untold else "",
        f"Not considered, for want of a {wanted}: {speech.names(unknown)}." if unknown else "",
    )


def _all_told(speech: Speech, pick: doc.Entry, names: list[str]) -> str:
    """Some with their cost, or with their minutes where these decide."""
    if pick["basis"] != MINUTES:
        return listed([_priced(speech, name, unknown="cost not given") for name in names])
    given = {entry["id"]: entry.get("minutes_to_make") for entry in speech.trial["elements"]}
    told = {name: "time not given" if given[name] is None else _minutes(given[name]) for name in names}
    return listed([f"{speech.name(name)} ({told[name]})" for name in names])


def _minutes(number: float) -> str:
    return f"{numerals.plain(number)} {'minute' if number == 1 else 'minutes'}"


def _priced(speech: Speech, name: str, *, unknown: str = "") -> str:
    """An element with its cost behind it; said where that follows from its length."""
    price = cost(doc.element(speech.document, name)) or unknown
    given = next(entry for entry in speech.trial["elements"] if entry["id"] == name)
    by_length = price and not given.get("cost") and given.get("cost_per_metre")
    behind = f"{price} for its length" if by_length else price
    return f"{speech.name(name)} ({behind})" if behind else speech.name(name)


_BY_REASON: Final[dict[str, Callable[[Speech, doc.Entry], str]]] = {
    "only the leader": _alone,
    "decision stands": _stands,
    "no costs": _no_costs,
    "not settled": _not_settled,
    "cheapest": _cheapest,
    "quickest": _by_minutes,
}
