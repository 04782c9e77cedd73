"""What comes of a table, long or wide."""

from dataclasses import dataclass

from service.intake.draft import Draft
from service.intake.value_cells import Manner, ValueCells


@dataclass(frozen=True, eq=False)
class TableDraft:
    """The readings, how their values were understood, which rows and columns were left out and why."""

    draft: Draft
    cells: ValueCells
    manner: Manner
    skipped: list[dict[str, object]]
