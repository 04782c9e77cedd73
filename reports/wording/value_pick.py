"""The cheaper one that is as good, in one sentence."""

from reports import document as doc
from reports import numerals
from reports.wording.speech import Speech, sentences


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
    return sentences(_pick(speech, pick), _undecided(speech, pick)) if pick else ""


def _pick(speech: Speech, pick: doc.Entry) -> str:
    reason, best = pick["reason"], doc.leader(speech.document)
    if reason == "only the leader":
        return f"No cheaper {speech.things.one} is as good: the leader stands alone."
    if reason == "no costs":
        return "The cheapest that is as good cannot be named: give what each costs."
    if reason == "several currencies":
        return "The cheapest that is as good cannot be named: the costs are in several currencies."
    if reason == "not settled":
        return "Whether a cheaper one is as good is not settled yet."
    return _cheapest(speech, pick["element"], best)


def _cheapest(speech: Speech, chosen: str, best: doc.Entry | None) -> str:
    price = cost(doc.element(speech.document, chosen))
    named = f"{speech.name(chosen)} ({price})" if price else speech.name(chosen)
    if best is not None and best["id"] == chosen:
        return f"{named} leads and is also the cheapest of those that are as good."
    return (
        f"{named} is the cheapest of those that are as good: behind the best by less than "
        f"{speech.margin()}, if at all."
    )


def _undecided(speech: Speech, pick: doc.Entry) -> str:
    if not pick["undecided"] or pick["reason"] == "not settled":
        return ""
    return f"Not settled, and so not considered: {speech.names(pick['undecided'])}."
