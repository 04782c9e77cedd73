"""What the service remarks on single rows and columns of a file, in the spoken language.

The document holds these remarks as English sentences with names in them; they are recognised here.
"""

import re
from functools import cache
from typing import Final

from reports.document import clean
from reports.language import marked, say
from reports.wording.recognised import form

REMARKS: Final = (
    marked("not read"),
    marked("the row is empty"),
    marked("the line stands above the heading"),
    marked("the line names the separator"),
    marked("the row has no reading: the channel was not scanned"),
    marked("the column {name} has no reading: the run was not scanned"),
    marked("the row is the sum of the others"),
    marked("the row is the mean of the others"),
    marked("the column {name} is the sum of the others"),
    marked("the column {name} is the mean of the others"),
    marked("{element}, round {round}"),
    marked("{column}, in {unit}"),
)
"""The loosest last: a remark is said by the first that it fits."""


def said(text: str) -> str:
    """A remark in the spoken language; one that is not known as it is."""
    for message in REMARKS:
        found = _form(message).fullmatch(text)
        if found:
            return say(message, **{place: _placed(place, name) for place, name in found.groupdict().items()})
    return clean(text)


def _placed(place: str, name: str) -> str:
    return said(name) if place == "column" else clean(name)


@cache
def _form(message: str) -> re.Pattern[str]:
    return form(message, lambda place: "[0-9]+" if place == "round" else ".+")
