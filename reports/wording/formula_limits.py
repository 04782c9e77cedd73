"""Why a formula of conductor loss gives no number, in the language that is spoken.

The analysis document holds these sentences as text, with their numbers in it: each is known by its form.
"""

import re
from functools import partial
from typing import Final

from reports import numerals
from reports.language import marked, say
from reports.wording.recognised import form

SENTENCES: Final = (
    marked("The conductor is {length} wavelengths long; the formula holds to {longest}."),
    marked("The conductor is only {times} times as long as its radius; the formula wants {fewest}."),
    marked("The conductor is not several skin depths thick, so only bounds are known."),
    marked("Permeability, coating or form is known only within bounds."),
)
_NUMBER: Final = r"\d+(?:\.\d+)?"
_FORMS: Final = tuple((sentence, form(sentence, lambda _place: _NUMBER)) for sentence in SENTENCES)


def said(why: str) -> str:
    """One or several such sentences, said; any other is left as it stands."""
    for sentence, pattern in _FORMS:
        why = pattern.sub(partial(_said, sentence), why)
    return why


def _said(sentence: str, found: re.Match[str]) -> str:
    """The numbers are as the locale writes them, with as many decimals as they stand with."""
    given = found.groupdict()
    numbers = {name: numerals.fixed(float(text), len(text.partition(".")[2])) for name, text in given.items()}
    return say(sentence, **numbers)
