"""The cheaper one that is as good, in one sentence."""

from collections.abc import Callable
from typing import Final

from reports import document as doc
from reports import numerals
from reports.wording.speech import Speech, listed, sentences


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
    whose = speech.names(pick["undecided"]) if pick["undecided"] else f"each {speech.things.one}"
    return f"The cheapest that is as good cannot be named: give the cost of {whose}."


def _not_settled(speech: Speech, pick: doc.Entry) -> str:
    named = f": {_all_priced(speech, pick['undecided'])}" if pick["undecided"] else ""
    return f"Whether a cheaper one is as good is not settled yet{named}."


def _cheapest(speech: Speech, pick: doc.Entry) -> str:
    best, chosen = doc.leader(speech.document), pick["element"]
    named = _priced(speech, chosen)
    shared = any(entry["standing"] == "shares the lead" for entry in doc.competing(speech.document))
    if best is None or best["id"] != chosen:
        first = (
            f"{named} is the cheapest of those that are as good: behind the best by less than "
            f"{speech.margin()}, if at all."
        )
    elif shared:
        first = f"{named} leads and is also the cheapest of those that are as good."
    else:
        first = f"{named} leads, and none that may be as good is cheaper."
    return sentences(first, _open(speech, pick))


def _open(speech: Speech, pick: doc.Entry) -> str:
    """Those that may turn out cheaper and as good, and those as good that may be cheaper."""
    standing = {entry["id"]: entry["standing"] for entry in doc.competing(speech.document)}
    untold = [name for name in pick["undecided"] if standing[name] == "not told apart yet"]
    unpriced = [name for name in pick["undecided"] if name not in untold]
    return sentences(
        f"Not settled, and so not considered: {_all_priced(speech, untold)}." if untold else "",
        f"Not considered, for want of a cost: {speech.names(unpriced)}." if unpriced else "",
    )


def _all_priced(speech: Speech, names: list[str]) -> str:
    return listed([_priced(speech, name, unknown="cost not given") for name in names])


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
}
