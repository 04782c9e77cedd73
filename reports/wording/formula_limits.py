"""Why a formula of conductor loss gives bounds only, worded from the codes and numbers of the document."""

from collections.abc import Callable, Mapping
from functools import partial
from typing import Final

from reports import document as doc
from reports import numerals
from reports.language import marked, say
from reports.wording.speech import sentences

SENTENCES: Final[Mapping[str, str]] = {
    "too-long": marked("The conductor is {wavelengths} wavelengths long; the formula holds to {longest}."),
    "not-slender": marked(
        "The conductor is only {slenderness} times as long as its radius; the formula wants {least}."
    ),
    "not-thick": marked("The conductor is not several skin depths thick, so only bounds are known."),
    "bracketed": marked("Permeability, coating or form is known only within bounds."),
}
_ROUNDED: Final[Mapping[str, Callable[[float], str]]] = {
    "wavelengths": partial(numerals.fixed, places=2),
    "slenderness": partial(numerals.fixed, places=0),
    "longest": numerals.plain,
    "least": numerals.plain,
}


def said(row: doc.Entry) -> str:
    """Why a row has bounds only; its own English where it has no codes, or one that is not known."""
    reasons = row.get("reasons") or ()
    if not reasons or any(reason["code"] not in SENTENCES for reason in reasons):
        return doc.clean(row["why"])
    return sentences(*(_sentence(**reason) for reason in reasons))


def _sentence(code: str, evidence: Mapping[str, float]) -> str:
    return say(SENTENCES[code], **{name: _ROUNDED[name](value) for name, value in evidence.items()})
