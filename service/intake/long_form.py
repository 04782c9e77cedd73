"""A table with a row for each reading."""

import difflib

from service.errors import Fault
from service.intake.column_check import ColumnCheck
from service.intake.columns import Column
from service.intake.draft import Draft, no_names
from service.intake.faults import FaultList
from service.intake.headings import (
    LONG_HEADINGS,
    LONG_REQUIRED,
    Heading,
    heading_fault,
    repeated_headings,
)
from service.intake.spellings import choice
from service.intake.summary_lines import without_long_sums
from service.intake.table_draft import TableDraft
from service.intake.text_table import TextTable
from service.intake.value_cells import Manner, value_cells
from service.intake.values import State

WANTED = (
    f"Wanted are {', '.join(LONG_REQUIRED)}, and where there is more to say round, rf_channel, received, at, "
    "run, mounting."
)
MOST_NAMES_TOLD = 8


def long_heading_faults(heading: Heading) -> list[Fault]:
    """What keeps a heading from being that of the long form."""
    if not set(heading.names) & set(LONG_REQUIRED):
        return [*_choices(heading), Fault(_wanted_for(heading), row=heading.row, given=_told(heading))]
    faults = repeated_headings(heading)
    for place, name in enumerate(heading.names):
        if name not in LONG_HEADINGS and name not in heading.names[:place]:
            faults.append(heading_fault(heading, place, _not_known(name)))
    missing = [name for name in LONG_REQUIRED if name not in heading.names]
    if missing:
        detail = f"There is no column {' and no column '.join(missing)}. {WANTED}{_wide_wanted(heading)}"
        faults.append(Fault(detail, row=heading.row, given=_told(heading)))
    return faults


def is_readable(heading: Heading) -> bool:
    """Whether the readings can be told: what is required stands there, and nothing known stands twice."""
    known = [name for name in heading.names if name in LONG_HEADINGS]
    return set(LONG_REQUIRED) <= set(known) and len(set(known)) == len(known)


def long_draft(table: TextTable, manner: Manner, faults: FaultList, *, longest: int) -> TableDraft:
    """The readings of the table and how its values were understood; `longest` is that of a name."""
    manner = manner.for_texts(_column(table, "value").texts)
    table, skipped = without_long_sums(table, manner, faults=faults)
    check = ColumnCheck(table.rows, faults, longest=longest)
    values = _column(table, "value")
    cells = value_cells(values.codes, values.texts, manner)
    check.refuse(
        cells.state == State.FAULTY,
        lambda row: ("value", cells.detail(values.text(row) or ""), values.text(row)),
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
        shift=manner.shift,
    )
    return TableDraft(draft, cells, manner, skipped)


def _column(table: TextTable, name: str) -> Column:
    return table.column(name) or no_names(len(table.rows))


def _not_known(name: str) -> str:
    """What is wrong with a heading that names no column, and what it may stand for."""
    meant = choice(name)
    if meant is not None:
        return f"{meant} {WANTED}"
    close = difflib.get_close_matches(name.casefold(), LONG_HEADINGS, n=1)
    return f"This heading is not known.{f' Did you mean {close[0]}?' if close else ''} {WANTED}"


def _choices(heading: Heading) -> list[Fault]:
    """A fault for each heading that could mean several columns."""
    meant = [(place, choice(name)) for place, name in enumerate(heading.names)]
    return [heading_fault(heading, place, detail) for place, detail in meant if detail is not None]


def _told(heading: Heading) -> str:
    return ", ".join(heading.given)[:80]


def _wide_wanted(heading: Heading) -> str:
    """The heading of the wide form for a table that lacks only the element, and may be meant for one."""
    if "channel" not in heading.names or "element" in heading.names:
        return ""
    runs = [given for given, name in zip(heading.given, heading.names, strict=True) if name == "value"]
    return f" Or, with a column for each run: {_wide_heading(heading, runs)}."


def _wanted_for(heading: Heading) -> str:
    """The headings wanted, those of the wide form filled with the names that the table has."""
    wide = _wide_heading(heading, [name for name in heading.names[1:] if name])
    return (
        "No heading of this line is understood. With a row for each channel and a column for each run write "
        f"{wide} (element@round). With a row for each reading: {WANTED}"
    )


def _wide_heading(heading: Heading, own: list[str]) -> str:
    runs = [name if "@" in name else f"{name}@1" for name in own[:MOST_NAMES_TOLD]] or ["brass-3@1"]
    more = ["..."] if len(own) > MOST_NAMES_TOLD else []
    return heading.sign.join(["channel", *runs, *more])
