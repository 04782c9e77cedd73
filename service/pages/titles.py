"""What a page calls a kept trial."""

from typing import Final

from reports.language import marked, say

UNNAMED: Final = marked("Trial without a title")


def titled(title: str | None) -> str:
    """The title of a trial, or that it has none."""
    return title or say(UNNAMED)
