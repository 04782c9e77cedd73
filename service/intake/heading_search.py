"""Where the heading of a table stands and by what its cells are parted: a fixed rule.

The heading is the first line, among those at the top, that names a whole form under some separator, or two
columns of it. Where that line does so under several separators, the one counts under which it is a whole
form, then the one with the most columns named, then the one that parts every line of the file into equally
many cells; what is left is refused by name. Where no line is a heading, the line with the most cells is taken
for one, for the faults to speak of.
"""

import csv
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from service.errors import BadRequest, TooLarge
from service.intake.headings import Heading, heading_of
from service.intake.text_lines import TextLines

LINES_LOOKED_AT = 40
NAMES = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "bars"}
FEWEST_KNOWN = 2


@dataclass(frozen=True)
class Found:
    """The heading, and the lines above it that hold something else."""

    heading: Heading
    above: tuple[int, ...]


def text_heading(lines: TextLines, separators: Sequence[str], *, most_columns: int) -> Found:
    """The heading of a table of text.

    Raises TooLarge for a line of more than `most_columns` cells, BadRequest for a top of nothing but spaces,
    for quotation marks out of place and for separators that cannot be told apart.
    """
    top = lines.top(LINES_LOOKED_AT)
    if not any(line.strip() for _, line in top):
        raise BadRequest(_nothing_written(top))
    _refuse_wide(top, separators, most_columns)
    errors: list[csv.Error] = []
    found = [list(_headings(top, separator, errors)) for separator in separators]
    best = _first_heading([heading for each in found for heading in each], lines)
    if best is None or (errors and not best.known):
        raise _not_split(errors[0], lines) from errors[0]
    whole = [heading for each in found for heading in each if heading.separator == best.separator]
    return Found(best, tuple(each.row for each in whole if each.row < best.row and any(each.given)))


def cell_heading(rows: Sequence[tuple[int, Sequence[str]]]) -> Found:
    """The heading of a sheet of which these are the first rows; there is at least one."""
    headings = [heading_of(cells, row) for row, cells in rows if any(cells)]
    best = next((each for each in headings if _is_heading(each)), None) or _likeliest(headings)
    return Found(best, tuple(each.row for each in headings if each.row < best.row))


def _refuse_wide(top: Sequence[tuple[int, str]], separators: Sequence[str], most: int) -> None:
    for row, line in top:
        if max(line.count(separator) for separator in separators) >= most:
            raise TooLarge(
                f"Line {row} has more columns than the {most} that are read. Send fewer runs at a time."
            )


def _headings(top: Sequence[tuple[int, str]], separator: str, errors: list[csv.Error]) -> Iterator[Heading]:
    """What each line would be as a heading, up to the first that cannot be split."""
    place = 0
    while place < len(top):
        row, line = top[place]
        try:
            cells, height = _split([text for _, text in top[place:]], separator)
        except csv.Error as error:
            errors.append(error)
            return
        if line.strip():
            yield heading_of(cells, row, separator=separator, end=row + height - 1)
        place += height


def _split(lines: Sequence[str], separator: str) -> tuple[list[str], int]:
    """The cells of the first line and how many lines they take up; a line without quotation marks may be
    longer than the csv module allows a cell."""
    if '"' not in lines[0]:
        return lines[0].split(separator), 1
    reader = csv.reader((f"{line}\n" for line in lines), delimiter=separator, strict=True)
    return next(reader), reader.line_num


def _is_heading(heading: Heading) -> bool:
    return heading.is_whole or heading.known >= FEWEST_KNOWN


def _first_heading(found: Sequence[Heading], lines: TextLines) -> Heading | None:
    headings = [each for each in found if _is_heading(each)]
    if not headings:
        return _likeliest(found) if found else None
    first = min(each.row for each in headings)
    headings = [each for each in headings if each.row == first]
    best = max((each.is_whole, each.known) for each in headings)
    headings = [each for each in headings if (each.is_whole, each.known) == best]
    if len(headings) > 1:
        headings = [each for each in headings if lines.are_even(each.separator or "", first)] or headings
    if len(headings) > 1:
        raise BadRequest(_not_told_apart(headings))
    return headings[0]


def _likeliest(found: Sequence[Heading]) -> Heading:
    return max(found, key=lambda each: (each.known, len(each.given), -each.row))


def _nothing_written(top: Sequence[tuple[int, str]]) -> str:
    return (
        f"The table has nothing but spaces down to line {top[-1][0]}. Begin it with a heading, such as "
        "element,round,channel,value."
    )


def _not_told_apart(headings: Sequence[Heading]) -> str:
    names = [NAMES.get(each.separator or "", repr(each.separator)) for each in headings]
    return (
        f"The heading in line {headings[0].row} can be parted by {' and by '.join(names)}, and so can the "
        f"lines below. Write sep={headings[0].separator} (or the other) as the first line of the file."
    )


def _not_split(error: csv.Error, lines: TextLines) -> BadRequest:
    return BadRequest(
        f"The heading in line {lines.first} cannot be split: {error}. Mend the quotation marks there."
    )
