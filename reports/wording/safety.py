"""Cautions about people, in the project's own words; each is `say`d where it is shown."""

import re
from typing import Final

from reports import document as doc
from reports.language import marked, say

SAFETY: Final = (
    marked(
        "Overhead power lines: keep well over the combined height of mast and antenna away from any line, in "
        "every direction in which they could fall. What touches a line kills."
    ),
    marked(
        "Roof and ladder: never alone, never when it is wet, never in wind. Somebody holds the ladder and "
        "can call help."
    ),
    marked(
        "Earthing: mast and cable are earthed and bonded to the local code (in the United States NEC Article "
        "810; elsewhere IEC 60728-11 and the national rules), by a licensed person where the law asks for "
        "one."
    ),
    marked(
        "Thunder: stop, leave mast and cable alone and come down at the first sign, and wait until it has "
        "passed."
    ),
    marked("Zinc-coated wire: do not heat, solder or weld it indoors; its fumes make you ill."),
    marked(
        "Cut wire and rod: wear eye protection, turn ends away while cutting, and cap or bend back sharp "
        "ends."
    ),
    marked("Receive only: nothing in this trial sends. Never connect a transmitter to what was tried here."),
)

_COORDINATES = re.compile(
    r"[-+\N{MINUS SIGN}]?\d{1,3}[.,]\d{3,}\s*°?\s*[NSEWnsew]?[\s,;/]+[-+\N{MINUS SIGN}]?\d{1,3}[.,]\d{3,}"
)


def site_of(trial: doc.Entry) -> str:
    """The site as a trial describes it, without what looks like exact coordinates; "" where none is told."""
    withheld = say("(position withheld)")
    return _COORDINATES.sub(lambda _found: withheld, doc.clean(trial["site"] or ""))
