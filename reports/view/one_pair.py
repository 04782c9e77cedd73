"""One pair in words and numbers, as tables and pictures give it."""

from reports import document as doc
from reports import numerals
from reports.wording.speech import Speech


def less(speech: Speech, pair: doc.Entry) -> str:
    """A pair, or a look at one, as "first minus second", in the order of its difference."""
    return f"{speech.label(pair['first'])} {numerals.MINUS} {speech.label(pair['second'])}"


def difference(speech: Speech, pair: doc.Entry, *, sign: int = 1) -> str:
    """Its difference, rounded by its interval, else its standard error, else the meter's step; "" for none.

    `sign` is -1 for second less first.
    """
    low, high = doc.ends(pair["interval"])
    width = numerals.half_width(low, high) if pair["interval"] else pair["standard_error"]
    value = None if pair["difference"] is None else sign * pair["difference"]
    return numerals.signed(value, width or doc.resolution(speech.document))
