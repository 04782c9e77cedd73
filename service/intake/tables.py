"""From a table, of text or of a workbook, to readings and the account of how it was understood."""

from typing import Any

from service.errors import BadRequest, Fault, TooLarge
from service.intake.accounts import Source, headings_told, table_account
from service.intake.draft import Draft
from service.intake.faults import FaultList
from service.intake.file_unit import file_unit
from service.intake.heading_search import NAMES, text_heading
from service.intake.headings import LONG_HEADINGS, WIDE, WIDE_HEADINGS, Heading
from service.intake.long_form import is_readable, long_draft, long_heading_faults
from service.intake.marks import Marks
from service.intake.media_types import SEPARATORS
from service.intake.summaries import is_summary
from service.intake.text_lines import TextLines, text_lines
from service.intake.text_table import TextTable, text_table
from service.intake.value_cells import Manner
from service.intake.wide_cells import wide_draft
from service.intake.wide_form import run_columns
from service.settings import Limits
from service.trial.trial import Meter


class TableReader:
    """Reads the tables of one batch; `meter` is None, or without a unit, where the trial does not tell."""

    def __init__(self, marks: Marks, meter: Meter | None, *, faults: FaultList, limits: Limits):
        self._marks = marks
        self._meter = meter
        self._faults = faults
        self._limits = limits

    def text(self, body: bytes, media_type: str) -> tuple[Draft, dict[str, Any]]:
        """The readings of a table of text. Raises BadRequest, TooLarge, BadInput."""
        lines = text_lines(body)
        most = self._limits.elements * self._limits.rounds + len(WIDE_HEADINGS)
        found = text_heading(lines, _separators(lines, media_type), most_columns=most)
        self.check_count(lines.body.count(b"\n"), found.heading)
        table = text_table(lines, found.heading, self._faults)
        source = Source(
            media_type,
            lines.encoding,
            lines.byte_order_mark,
            above=found.above,
            separator_row=lines.separator_row,
        )
        return self.draft(table, source)

    def check_count(self, rows: int, heading: Heading) -> None:
        """Raise TooLarge where so many rows below the heading are more readings than are taken."""
        runs = sum(name != "" and name not in LONG_HEADINGS for name in heading.names)
        check_count(rows, self._limits, per_row=max(1, runs) if heading.form == WIDE else 1)

    def draft(self, table: TextTable, source: Source) -> tuple[Draft, dict[str, Any]]:
        """The readings of the table, its faults noted. Raises BadInput where its heading hides them."""
        self._faults.labels = table.heading.labels()
        unit = file_unit(table.heading, self._meter)
        manner = Manner(
            self._marks,
            table.heading.separator,
            unit=unit.unit,
            shift=unit.shift,
            plain_numbers=table.plain_numbers,
        )
        read = self._wide if table.heading.form == WIDE else self._long
        self._faults.add(unit.faults)
        self._faults.unit_faulty = bool(unit.faults)
        return read(table, source, manner, notes=unit.notes)

    def _wide(
        self, table: TextTable, source: Source, manner: Manner, *, notes: tuple[str, ...]
    ) -> tuple[Draft, dict[str, Any]]:
        longest = self._limits.text_characters
        columns, faults = run_columns(table.heading, longest=longest)
        self._note_heading(faults, readable=bool(columns))
        found = wide_draft(table, columns, manner, faults=self._faults, longest=longest)
        told = headings_told(table.heading, [each for each in columns if not is_summary(each.name)])
        return found.draft, table_account(source, table, found, columns=told, notes=notes)

    def _long(
        self, table: TextTable, source: Source, manner: Manner, *, notes: tuple[str, ...]
    ) -> tuple[Draft, dict[str, Any]]:
        self._note_heading(long_heading_faults(table.heading), readable=is_readable(table.heading))
        found = long_draft(table, manner, self._faults, longest=self._limits.text_characters)
        told = headings_told(table.heading)
        return found.draft, table_account(source, table, found, columns=told, notes=notes)

    def _note_heading(self, found: list[Fault], *, readable: bool) -> None:
        """Note the faults of a heading, which end the reading where what stands below stays unclear."""
        self._faults.add(found)
        self._faults.heading_faulty = self._faults.heading_faulty or bool(found)
        if not readable:
            self._faults.raise_any()


def check_count(rows: int, limits: Limits, *, per_row: int = 1) -> None:
    """Raise TooLarge where there are more readings than are taken at once."""
    if rows * per_row > limits.readings:
        raise TooLarge(
            f"The batch holds about {rows * per_row} readings; at most {limits.readings} are taken at once. "
            "Send fewer rounds or fewer channels at a time."
        )


def _separators(lines: TextLines, media_type: str) -> tuple[str, ...]:
    """The separators that the cells may be parted by: what the file itself names is the one."""
    allowed = SEPARATORS[media_type]
    if lines.separator is None:
        return allowed
    if lines.separator not in allowed:
        names = ", ".join(NAMES[each] for each in allowed)
        raise BadRequest(
            f"The line sep={lines.separator} names a separator that is not read here; {media_type} is parted "
            f"by {names}. Save the table with one of these, or send it as text/csv."
        )
    return (lines.separator,)
