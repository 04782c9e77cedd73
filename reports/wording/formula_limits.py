"""Why a formula of conductor loss gives no number, in the language that is spoken.

The analysis document holds these sentences as text, with their numbers in it: each is known by its form.
"""

import re
from functools import partial
from typing import Final

from reports import numerals
from reports.language import marked, say

SENTENCES: Final = (
    marked("The conductor is {length} wavelengths long; the formula holds to {longest}."),
    marked("The conductor is only {times} times as long as its radius; the formula wants {fewest}."),
    marked("The conductor is not several skin depths thick, so only bounds are known."),
    marked("Permeability, coating or form is known only within bounds."),
)
_PLACE: Final = re.compile(r"\\\{(\w+)\\\}")
_FORMS: Final = tuple(
    (sentence, re.compile(_PLACE.sub(r"(?P<\1>\\d+(?:\\.\\d+)?)", re.escape(sentence))))
    for sentence in SENTENCES
)


def said(why: str) -> str:
    """One or several such sentences, said; any other is left as it stands."""
    for sentence, form in _FORMS:
        why = form.sub(partial(_said, sentence), why)
    return why


def _said(sentence: str, found: re.Match[str]) -> str:
    """The numbers are as the locale writes them, with as many decimals as they stand with."""
    given = found.groupdict()
    numbers = {name: numerals.fixed(float(text), len(text.partition(".")[2])) for name, text in given.items()}
    return say(sentence, **numbers)
