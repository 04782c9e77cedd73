"""What must hold of the readings as a whole: rounds that can be told, each cell once, not too many."""

from service.errors import BadInput, Fault
from service.intake.faults import FaultList
from service.intake.headings import WIDE
from service.settings import Limits
from service.trial.readings_table import Readings
from service.trial.rounds import ROW_ORDER, AssignedRounds, assign_rounds, repeated_cells

DECIDING_COLUMNS = frozenset({"element", "channel", "round", "at", "run", "mounting"})


def check_rounds(readings: Readings, faults: FaultList, limits: Limits) -> None:
    """Note rounds that cannot be told, repeated cells, and more rounds than are taken.

    Not looked at where a column that decides has faults of its own, or where the order of the rows decides
    and some rows are faulty: what was found then would be a consequence. The wide form cannot repeat a cell
    unless it repeats a channel or a run, which is noted elsewhere.
    """
    if faults.columns & DECIDING_COLUMNS:
        return
    try:
        assigned = assign_rounds(readings)
    except BadInput as error:
        faults.add(error.faults)
        return
    if assigned.rounds_from == ROW_ORDER and faults.of_rows:
        return
    if readings.read_as["shape"] != WIDE:
        _check_repeats(readings, assigned, faults)
    rounds, elements = assigned.frame["round"].nunique(), assigned.frame["element"].nunique()
    work = elements * (elements - 1) // 2 * rounds
    refuse_over("rounds", rounds, limits.rounds, faults=faults)
    refuse_over("pairs of elements times rounds", work, limits.pairs_times_rounds, faults=faults)


def refuse_over(what: str, number: int, most: int, *, faults: FaultList) -> None:
    """Note a number that passes its limit."""
    if number > most:
        detail = f"The trial has {number} {what}; at most {most} are taken. Split it into smaller trials."
        faults.add([Fault(detail, given=number)])


def _check_repeats(readings: Readings, assigned: AssignedRounds, faults: FaultList) -> None:
    """Refuse a cell that is given again without anything that tells the two apart.

    Told apart by at, run or mounting they are several scans, which are averaged. Where neither round, at, run
    nor mounting is given, rows of one element with another element between belong to different mountings.
    """
    again, first = repeated_cells(assigned)
    rows = readings.frame["row"].to_numpy()
    channels = readings.frame["channel"]

    def told(index: int) -> tuple[str, str, object]:
        detail = (
            f"This cell was given already, in row {rows[first[index]]}. Take one of the two out; where both "
            "are scans, tell them apart by at, run or mounting."
        )
        return "channel", detail, channels.iloc[again[index]]

    faults.at_rows(rows[again], told)
