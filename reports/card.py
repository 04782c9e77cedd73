"""The verdict as one picture to show around: PNG, 1920 by 1080 or 1080 by 1080 dots.

What the picture says in words is its text alternative, kept in the file under "Description".
"""

from typing import Final

from reports import charts
from reports.document import Document, without_isolates
from reports.language import say
from reports.view import card
from reports.wording.speech import speech_of
from reports.wording.vocabulary import OUTCOMES

WIDTHS: Final = {"wide": 320.0, "square": 180.0}


def render(document: Document, *, shape: str = "wide") -> bytes:
    """The picture of a completed analysis document; ValueError for a shape that is not known."""
    if shape not in WIDTHS:
        raise ValueError(f"shape {shape!r} is not known; there are {', '.join(WIDTHS)}")
    speech = speech_of(document)
    verdict = speech.verdict
    told = without_isolates(f"{say(OUTCOMES[verdict['outcome']])}: {verdict['statement']}")
    return charts.png(card.picture(speech, shape), width=WIDTHS[shape], description=told)
