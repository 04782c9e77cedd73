"""Sentences with a number that only a script will know, in the forms that the language has for numbers."""

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True)
class Counted:
    """The forms of a sentence; `which` has a digit each for 1, 2 and so on: the place of its form here."""

    forms: tuple[str, ...]
    which: str


def counted(said: Callable[[int], str], most: int) -> Counted:
    """The forms of what is `said` of 1, of 2 and so on up to `most`."""
    texts = [said(number) for number in range(1, most + 1)]
    forms = tuple(dict.fromkeys(texts))
    return Counted(forms, "".join(str(forms.index(text)) for text in texts))
