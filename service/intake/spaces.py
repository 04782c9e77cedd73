"""Spaces that look like the plain one and are not."""

NO_BREAK = "\u00a0\u2007\u2009\u202f"
"""No-break, figure, thin and narrow no-break space: spreadsheets and word processors put them in unasked."""
_PLAIN = str.maketrans(dict.fromkeys(NO_BREAK, " "))
_ONE_LINE = str.maketrans(dict.fromkeys(NO_BREAK + "\r\n\t", " "))


def plain_spaces(text: str) -> str:
    """The text with plain spaces, none around it."""
    return text.translate(_PLAIN).strip() if not text.isascii() else text.strip()


def one_line(text: str) -> str:
    """The text of a cell as one line."""
    return text.translate(_ONE_LINE).strip()


def has_other_spaces(text: str) -> bool:
    """Whether `plain_spaces` would change more than the ends of the text."""
    return not text.isascii() and any(sign in NO_BREAK for sign in text)
