"""All messages of reports and pages, as the library babel finds them in modules and templates."""

from collections.abc import Iterator
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir

ROOT = Path(__file__).parents[2]
ROOMS = ("reports", "service/pages")
METHODS = [("**.py", "python"), ("**/templates/**.html", "jinja2.ext.babel_extract")]
KEYWORDS = {
    "say": (1,),
    "_": (1,),
    "marked": (1,),
    "say_number": (1, 2),
    "number_of": (2, 3),
    "say_as": ((1, "c"), 2),
}
"""The functions whose text is a message, and which of their arguments: see `reports.language`."""


def messages() -> Catalog:
    """A catalogue without translations; each message with the places that say it."""
    catalog = Catalog(project="Aerial Assay", charset="utf-8", header_comment="")
    for place, line, message, context in _found():
        catalog.add(message, locations=[(place, line)], context=context)
    return catalog


def _found() -> Iterator[tuple[str, int, str | tuple[str, ...], str | None]]:
    for room in ROOMS:
        found = extract_from_dir(str(ROOT / room), METHODS, keywords=KEYWORDS, strip_comment_tags=True)
        for name, line, message, _comments, context in found:
            yield f"{room}/{name}", line, message, context
