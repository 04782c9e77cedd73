"""What was drawn: the pictures of a page, and the words of a picture."""

import base64
import re
from xml.etree import ElementTree

from reports import charts
from reports.charts.pictures import Picture

SVG = "{http://www.w3.org/2000/svg}"


def drawings(page: str) -> list[str]:
    """Every picture of a page, the wide and the narrow one."""
    found = re.findall(r'(?:src|srcset)="data:image/svg\+xml;base64,([^"]*)"', page)
    return [base64.b64decode(one).decode("utf-8") for one in found]


def texts(picture: Picture, width: float = 180.0) -> list[ElementTree.Element]:
    """The texts of a picture, as they stand in it."""
    drawn = ElementTree.fromstring(charts.svg(picture, width=width, text_as="text"))  # noqa: S314
    return list(drawn.iter(f"{SVG}text"))


def words(picture: Picture, width: float = 180.0) -> list[str]:
    """What is written in a picture."""
    return [node.text or "" for node in texts(picture, width)]
