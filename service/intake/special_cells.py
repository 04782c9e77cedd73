"""Cells of a workbook that are neither number nor text: dates, errors, formulas that were never worked out.

Such a cell travels as a text behind a zero sign, which no text of a workbook or of a table can hold, so that
every column can tell it from a name.
"""

SIGN = "\0"
DATE, ERROR, FORMULA = "d", "e", "f"
DETAILS = {
    DATE: (
        "This cell is a date. A spreadsheet takes 7/10, 7.10 or 27-1 for a day: set the column to numbers or "
        "to text and type it again."
    ),
    ERROR: "This cell is an error of the spreadsheet: mend its formula, or type the value.",
    FORMULA: (
        "This formula has no value: the file was not saved by a spreadsheet that worked it out. Open it, "
        "save it, or type the value."
    ),
}


def special(kind: str, shown: str) -> str:
    """The text of a special cell; `shown` is what a reader would see in it."""
    return SIGN + kind + shown


def special_detail(text: str) -> str | None:
    """Why a text that came from a special cell is refused; None for any other text."""
    return DETAILS[text[1]] if text[:1] == SIGN and text[1:2] in DETAILS else None


def shown(text: str) -> str:
    """What a reader would see in the cell that the text came from."""
    return text[2:] if special_detail(text) is not None else text
