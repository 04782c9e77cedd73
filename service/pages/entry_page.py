"""The form for one run as finished strings."""

import secrets
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Final

from reports import numerals
from reports.document import clean
from reports.language import marked, say, say_number
from service.errors import BadInput, Fault
from service.jobs.next_runs import Run
from service.jobs.run_entry import RunEntry
from service.pages.counted import Counted, counted
from service.pages.fields import Choice, Hidden, Values, choice, chosen, number_in
from service.pages.run_rows import Faults, Row, allowed, pad, rows
from service.pages.troubles import Trouble

SIGNED: Final = frozenset({"dB", "dBuV", "dBmV", "dBm"})
"""Units whose readings may be below 0; the number keys of many phones have no minus."""
NO_RUN: Final = marked("Choose an element of the trial, and a round: a whole number from 1 up.")
HELD: Final = marked(
    "There are readings of this run already ({channels}). What you send now is kept as one more scan "
    "of the same mounting and averaged with it. Was it put on anew? Then it is a run of another round: "
    "choose that under “Another run”."
)
KEPT: Final = marked("Sent as batch {batch}. The run below is the next one.")
TO_MEND: Final = marked(
    "Nothing of it is kept yet, and nothing is lost: mend what is marked below and send it again."
)


@dataclass(frozen=True)
class EntryPage:
    """The form for one run.

    sent_to: where a script sends it. pad: readings that have a button each, `keyboard` what a phone shows for
    the others. signed: one word where readings may be below 0. whole: what is said when all channels are
    answered. sent: what is said when the server has the run. begun: when the run was begun (RFC 3339).
    """

    title: str
    trial: str
    element: str
    label: str
    round: str
    where: str
    address: str
    sent_to: str
    notices: tuple[str, ...]
    troubles: tuple[Trouble, ...]
    lowest: str
    highest: str
    allowed: str
    keyboard: str
    pad: tuple[str, ...]
    signed: tuple[str, ...]
    rows: tuple[Row, ...]
    count: str
    whole: str
    sent: Counted
    carried: tuple[Hidden, ...]
    begun: str
    others: tuple[Choice, ...]


def asked_run(entry: RunEntry, values: Values) -> Run:
    """The run that is asked for, else the next one. Raises BadInput for one that cannot be."""
    coming = entry.coming
    element = values.get("element") or (coming.runs or coming.order)[0]
    number = number_in(values.get("round") or str(coming.round_number))
    if element not in coming.labels or not isinstance(number, int) or number < 1:
        raise BadInput([Fault(say(NO_RUN), column="round", given=f"{element}, {number}")])
    return element, number


def entry_page(
    entry: RunEntry, run: Run, values: Values, *, of: tuple[str, str], faults: Faults, trouble: Trouble | None
) -> EntryPage:
    """The form for the run with what was sent for it and what is wrong with that.

    of: the id of the trial and its title.
    """
    meter, buttons = entry.meter, pad(entry.meter)
    return EntryPage(
        title=of[1],
        trial=of[0],
        element=run[0],
        label=clean(entry.coming.labels[run[0]]),
        round=str(run[1]),
        where=_where(entry, run),
        address=f"/kept/{of[0]}",
        sent_to=f"/v1/trials/{of[0]}/readings",
        notices=_notices(entry, run, values),
        troubles=tuple(one for one in (trouble, _in_rows(faults)) if one is not None),
        lowest=_end(meter.lowest),
        highest=_end(meter.highest),
        allowed=allowed(meter),
        keyboard="none" if buttons else "decimal",
        pad=buttons,
        signed=("minus",) if meter.unit in SIGNED else (),
        rows=rows(entry.channels, values, faults),
        count=str(len(entry.channels)),
        whole=_whole(len(entry.channels)),
        sent=counted(_sent, len(entry.channels)),
        carried=(Hidden("key", values.get("key") or secrets.token_hex(16)),),
        begun=values.get("at", datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")),
        others=(_others(entry, run[0]),),
    )


def _where(entry: RunEntry, run: Run) -> str:
    coming = entry.coming
    if run[1] != coming.round_number or run[0] not in coming.runs:
        return say("Not the run that comes next.")
    number, count = coming.order.index(run[0]) + 1, len(coming.order)
    if run[0] == coming.runs[0]:
        return say(
            "Run {number} of {count} in this round, the one that comes next.", number=number, count=count
        )
    return say("Run {number} of {count} in this round.", number=number, count=count)


def _notices(entry: RunEntry, run: Run, values: Values) -> tuple[str, ...]:
    batch = number_in(values.get("kept", ""))
    kept = (say(KEPT, batch=batch),) if isinstance(batch, int) else ()
    return (
        (*kept, say(HELD, channels=numerals.number_of(entry.held[run], "channel", "channels")))
        if run in entry.held
        else kept
    )


def _others(entry: RunEntry, element: str) -> Choice:
    names: Sequence[tuple[str, str]] = [(one, clean(label)) for one, label in entry.coming.labels.items()]
    return chosen(choice("element", say("Element"), names), {"element": element}, {})


def _whole(number: int) -> str:
    return say_number(
        "All {number} channels are answered.", "All {number} channels are answered.", number, number=number
    )


def _sent(number: int) -> str:
    """What is said of a run with so many readings; a script that knows them fills the places."""
    return say_number(
        "Sent as batch {batch}: {element}, round {round}, with {number} reading.",
        "Sent as batch {batch}: {element}, round {round}, with {number} readings.",
        number,
        batch="{batch}",
        element="{element}",
        round="{round}",
        number="{number}",
    )


def _end(value: float | None) -> str:
    return "" if value is None else f"{value:.10g}"


def _in_rows(faults: Faults) -> Trouble | None:
    """That channels have faults, counted."""
    if not faults:
        return None
    title = say_number(
        "One channel is to be mended",
        "{number} channels are to be mended",
        len(faults),
        number=len(faults),
    )
    return Trouble(title, say(TO_MEND))
