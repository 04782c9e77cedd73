"""Texts in a table that a spreadsheet may open: what would be a formula there stands behind an apostrophe."""

QUOTED_SIGNS = "=+-@\t\r\0"
APOSTROPHE = "'"


def quoted_text(text: str) -> str:
    """The text as an export writes it: with an apostrophe in front where a spreadsheet might run it.

    A text that begins with apostrophes and goes on like a formula gets one more, so that `unquoted_text`
    always gives back what went in.
    """
    return APOSTROPHE + text if _is_like_a_formula(text) else text


def unquoted_text(text: str) -> str:
    """The text that an export wrote: without the apostrophe that keeps a formula from being one."""
    return text[1:] if text[:1] == APOSTROPHE and _is_like_a_formula(text) else text


def _is_like_a_formula(text: str) -> bool:
    return text.lstrip(APOSTROPHE)[:1] in tuple(QUOTED_SIGNS)
