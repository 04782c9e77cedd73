"""One batch from bytes to a trial and its readings, every fault of both told at once."""

import csv
from collections.abc import Mapping
from typing import Any

from service.errors import BadInput, BadRequest, Fault, TooLarge, UnsupportedMedia
from service.intake.accounts import json_account, run_headings, table_account
from service.intake.cell_checks import check_scale
from service.intake.draft import Draft
from service.intake.faults import FaultList
from service.intake.headings import WIDE, WIDE_HEADINGS, Heading, heading_of
from service.intake.json_readings import json_draft
from service.intake.long_form import is_readable, long_draft, long_heading_faults
from service.intake.marks import Marks
from service.intake.media_types import JSON, READ, SEPARATORS
from service.intake.strict_json import strict_json
from service.intake.table_checks import check_rounds, refuse_over
from service.intake.text_lines import TextLines, text_lines
from service.intake.text_table import text_table
from service.intake.values import State
from service.intake.wide_cells import wide_draft
from service.intake.wide_form import run_columns
from service.settings import Limits
from service.trial.names import checked_names
from service.trial.places import brief, pointer
from service.trial.readings_table import Readings
from service.trial.rounds import AssignedRounds
from service.trial.trial import Trial
from service.trial.trial_document import checked_trial

BODY_KEYS = ("trial", "readings")


def read_batch(
    body: bytes, media_type: str, *, trial: Mapping[str, Any] | None, marks: Marks, limits: Limits
) -> tuple[Trial, Readings]:
    """The trial, with every name that its readings bring, and the readings.

    A JSON body holds both ({"trial", "readings"}); a table comes with the trial document `trial`. Raises
    BadInput with every fault of the trial and of the readings, BadRequest for what is no JSON or no table,
    TooLarge past a limit, UnsupportedMedia.
    """
    if media_type not in READ:
        raise UnsupportedMedia(f"{media_type} is not read; send {', '.join(READ)}.")
    if media_type == JSON:
        return _json_batch(body, limits)
    faults = FaultList(in_json=False)
    checked = _checked(trial, faults, limits)
    draft, account = _table(text_lines(body), media_type, marks, faults=faults, limits=limits)
    return _concluded(checked, draft, account, faults=faults, limits=limits)


def _json_batch(body: bytes, limits: Limits) -> tuple[Trial, Readings]:
    content = strict_json(body)
    if not isinstance(content, dict):
        detail = 'Send an object {"trial": {...}, "readings": [...]}, the readings as a list.'
        raise BadInput([Fault(detail, pointer="#", given=brief(content))])
    faults = FaultList(in_json=True)
    detail = f"This key is not known; a batch has {' and '.join(BODY_KEYS)}."
    faults.add(Fault(detail, pointer=pointer(key)) for key in content if key not in BODY_KEYS)
    checked = _checked(content.get("trial"), faults, limits)
    rows = _rows(content.get("readings"), faults)
    _check_count(len(rows), limits)
    draft = json_draft(rows, faults, longest=limits.text_characters)
    return _concluded(checked, draft, json_account(draft, len(rows)), faults=faults, limits=limits)


def _rows(readings: object, faults: FaultList) -> list[Any]:
    """The list of readings, empty, the fault noted, where it is none."""
    if isinstance(readings, list):
        return readings
    detail = 'Give the readings as a list: [{"element": ..., "channel": ..., "value": ...}, ...].'
    faults.lost(Fault(detail, pointer=pointer("readings"), given=brief(readings)))
    return []


def _checked(document: object, faults: FaultList, limits: Limits) -> Trial | None:
    """The trial as far as it can be used, its faults noted."""
    trial, found = checked_trial(document, limits=limits)
    faults.add(found)
    return trial


def _table(
    lines: TextLines, media_type: str, marks: Marks, *, faults: FaultList, limits: Limits
) -> tuple[Draft, dict[str, Any]]:
    heading = _heading(lines, media_type, limits)
    _check_count(lines.body.count(b"\n"), limits, per_row=_columns_of_runs(heading))
    table = text_table(lines, heading, faults)
    longest = limits.text_characters
    if heading.form == WIDE:
        columns, found = run_columns(table.heading, longest=longest)
        _note_heading(found, faults, readable=bool(columns))
        wide = wide_draft(table, columns, marks, faults=faults, longest=longest)
        account = table_account(media_type, lines, table, draft=wide.draft, cells=wide.cells)
        account["columns"] = run_headings(columns, table.heading.names)
        account["skipped"] = wide.skipped + account["skipped"]
        return wide.draft, account
    _note_heading(long_heading_faults(table.heading), faults, readable=is_readable(table.heading))
    draft, cells = long_draft(table, marks, faults, longest=longest)
    return draft, table_account(media_type, lines, table, draft=draft, cells=cells)


def _heading(lines: TextLines, media_type: str, limits: Limits) -> Heading:
    line, separators = lines.line(), SEPARATORS[media_type]
    most = limits.elements * limits.rounds + len(WIDE_HEADINGS)
    if max(line.count(separator) for separator in separators) >= most:
        raise TooLarge(f"The heading in line {lines.first} has more columns than the {most} that are read.")
    try:
        return heading_of(line, lines.first, separators=separators)
    except csv.Error as error:
        detail = (
            f"The heading in line {lines.first} cannot be split: {error}. Mend the quotation marks there."
        )
        raise BadRequest(detail) from error


def _note_heading(found: list[Fault], faults: FaultList, *, readable: bool) -> None:
    """Note the faults of a heading, which end the reading where what stands below cannot be understood."""
    faults.add(found)
    faults.heading_faulty = bool(found)
    if not readable:
        faults.raise_any()


def _columns_of_runs(heading: Heading) -> int:
    if heading.form != WIDE:
        return 1
    return max(1, sum(name not in WIDE_HEADINGS and name != "" for name in heading.names))


def _check_count(rows: int, limits: Limits, *, per_row: int = 1) -> None:
    if rows * per_row > limits.readings:
        raise TooLarge(
            f"The batch holds about {rows * per_row} readings; at most {limits.readings} are taken at once. "
            "Send fewer rounds or fewer channels at a time."
        )


def _concluded(
    trial: Trial | None, draft: Draft, account: dict[str, Any], *, faults: FaultList, limits: Limits
) -> tuple[Trial, Readings]:
    if trial is not None:
        check_scale(draft, trial.meter, faults)
    if (draft.state == State.NOT_SCANNED).all() and not faults.rows_lost:
        faults.add([Fault("There is no reading at all; send at least one.", pointer="#/readings")])
    readings = Readings(draft.frame(), account)
    assigned = check_rounds(readings, faults, limits)
    whole = None if trial is None else _with_names(trial, readings, assigned, faults=faults, limits=limits)
    faults.raise_any()
    if whole is None:
        raise BadInput([Fault("The trial could not be understood.", pointer="#/trial")])
    return whole, readings


def _with_names(
    trial: Trial, readings: Readings, assigned: AssignedRounds | None, *, faults: FaultList, limits: Limits
) -> Trial:
    """The trial with the names of its readings; names that do not hold, or too many, are noted.

    Without any reading that could be read, what the trial refers to cannot be looked for.
    """
    if not len(readings.frame):
        return trial
    whole, found = checked_names(trial, readings, assigned)
    faults.add(found)
    refuse_over("elements", len(whole.elements), limits.elements, faults=faults)
    refuse_over("channels", len(whole.channels), limits.channels, faults=faults)
    return whole
