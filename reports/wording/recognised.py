"""English sentences that a document holds as text, known by their form, so that they can be said."""

import re
from collections.abc import Callable
from typing import Final

_PLACE: Final = re.compile(r"\\\{(\w+)\\\}")


def form(message: str, holds: Callable[[str], str]) -> re.Pattern[str]:
    """The pattern of a message, a group for each of its places; `holds` gives by its name what one holds."""
    pattern = _PLACE.sub(lambda place: f"(?P<{place[1]}>{holds(place[1])})", re.escape(message))
    return re.compile(pattern, re.DOTALL)
