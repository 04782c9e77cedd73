"""Which texts may stand in a trial: names that identify, and free text."""

import unicodedata

REFUSED_CATEGORIES = ("Cc", "Cf", "Cs", "Zl", "Zp")
JOINERS = "\u200c\u200d"
"""Invisible signs that some scripts are spelt with; the others make names look alike or turn them round."""


def text_fault(text: str, longest: int) -> str | None:
    """Why `text` may not stand in a trial, None where it may: too long, or with control signs in it."""
    if len(text) > longest:
        return f"is {len(text)} characters long; at most {longest} are allowed, so shorten it"
    if not text.isprintable() and any(map(_is_refused, text)):
        return (
            "holds a line break, a tab or another control sign, which may not be seen; write it anew as one "
            "plain line"
        )
    return None


def _is_refused(sign: str) -> bool:
    return unicodedata.category(sign) in REFUSED_CATEGORIES and sign not in JOINERS


def name_fault(text: str, longest: int) -> str | None:
    """Why `text` may not name an element, a channel, a run or the like; None where it may."""
    if not text.strip():
        return "is empty; give it a name"
    if text != text.strip():
        return "has spaces before or behind it; take them away"
    return text_fault(text, longest)
