"""A table with a row for each reading."""

import difflib
from collections.abc import Sequence

from service.errors import Fault
from service.intake.column_check import ColumnCheck
from service.intake.columns import Column
from service.intake.draft import Draft, no_names
from service.intake.faults import FaultList
from service.intake.headings import LONG_HEADINGS, LONG_REQUIRED, Heading
from service.intake.marks import Marks
from service.intake.text_table import TextTable
from service.intake.value_cells import ValueCells, value_cells
from service.intake.values import State

WANTED = (
    f"Wanted are {', '.join(LONG_REQUIRED)}, and where there is more to say round, rf_channel, received, at, "
    "run, mounting; or the wide form: channel, then a column a run headed element@round."
)


def long_heading_faults(heading: Heading) -> list[Fault]:
    """What keeps a heading from being that of the long form."""
    faults = repeated_headings(heading)
    for name in heading.names:
        if name not in LONG_HEADINGS:
            faults.append(heading_fault(heading, name, f"This heading is not known.{_meant(name)} {WANTED}"))
    missing = [name for name in LONG_REQUIRED if name not in heading.names]
    if missing:
        detail = f"There is no column {' and no column '.join(missing)}. {WANTED}"
        faults.append(Fault(detail, row=heading.row, given=", ".join(heading.names)[:80]))
    return faults


def repeated_headings(heading: Heading) -> list[Fault]:
    """A fault for each heading that stands twice."""
    twice = [name for place, name in enumerate(heading.names) if name in heading.names[:place]]
    detail = "This heading stands twice. Give every column a heading of its own."
    return [heading_fault(heading, name, detail) for name in dict.fromkeys(twice)]


def heading_fault(heading: Heading, name: str, detail: str) -> Fault:
    """A fault of one heading."""
    return Fault(detail, row=heading.row, column=name[:80], given=name[:80])


def long_draft(
    table: TextTable, marks: Marks, faults: FaultList, *, longest: int
) -> tuple[Draft, ValueCells]:
    """The readings of the table and how its values were understood; `longest` is that of a name."""
    check = ColumnCheck(table.rows, faults, longest=longest)
    values = _column(table, "value")
    cells = value_cells(values.codes, values.texts, marks, separator=table.heading.separator)
    check.refuse(
        cells.state == State.FAULTY,
        lambda row: ("value", cells.details[values.text(row) or ""], values.text(row)),
    )
    check.received(_column(table, "received"), cells.state)
    draft = Draft(
        row=table.rows,
        element=check.names(_column(table, "element"), "element", required=True),
        channel=check.names(_column(table, "channel"), "channel", required=True),
        value=cells.value,
        state=cells.state,
        round=check.rounds(_column(table, "round")),
        rf_channel=check.names(_column(table, "rf_channel"), "rf_channel"),
        at=check.times(_column(table, "at")),
        run=check.names(_column(table, "run"), "run"),
        mounting=check.names(_column(table, "mounting"), "mounting"),
        heading=lambda _: "value",
    )
    return draft, cells


def _column(table: TextTable, name: str) -> Column:
    return table.column(name) or no_names(len(table.rows))


def _meant(name: str, known: Sequence[str] = LONG_HEADINGS) -> str:
    close = difflib.get_close_matches(name.casefold(), known, n=1)
    return f" Did you mean {close[0]}?" if close else ""
