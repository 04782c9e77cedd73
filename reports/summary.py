"""A verdict in 60 to 90 plain words, to read aloud or to paste."""

from collections.abc import Sequence
from typing import Final

from reports.document import Document
from reports.text import plain
from reports.wording.speech import speech_of
from reports.wording.summary import Part, parts, words

MOST: Final = 90


def render(document: Document) -> bytes:
    """The summary of a completed analysis document as one line of text, in UTF-8."""
    found = parts(speech_of(document))
    chosen = _fitted(found)
    return (plain(" ".join(chosen[place] for place in sorted(chosen))) + "\n").encode("utf-8")


def _fitted(found: Sequence[Part]) -> dict[int, str]:
    """The wording of each part that there is room for, by its place.

    What must be said is first taken at its shortest. Then room is given by rank, to the fullest wording that
    fits.
    """
    chosen = {place: part.wordings[-1] for place, part in enumerate(found) if part.rank == 0}
    for place in sorted(range(len(found)), key=lambda place: (found[place].rank, place)):
        for wording in found[place].wordings:
            others = sum(words(text) for at, text in chosen.items() if at != place)
            if others + words(wording) <= MOST:
                chosen[place] = wording
                break
    return chosen
