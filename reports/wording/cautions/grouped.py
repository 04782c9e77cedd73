"""Groups as one phrase, told apart by semicolons since each is a list itself."""

from typing import Final

from reports import numerals
from reports.language import say

MOST_GROUPS: Final = 4


def grouped(groups: list[str]) -> str:
    """The first groups, the rest counted: "A and B; C; and 2 more"."""
    shown, more = "; ".join(groups[:MOST_GROUPS]), len(groups) - MOST_GROUPS
    return (
        shown if more <= 0 else say("{groups}; and {number} more", groups=shown, number=numerals.count(more))
    )
