"""One batch from bytes to a trial and its readings, every fault of both told at once."""

from collections.abc import Mapping, Sequence
from typing import Any

from service.errors import BadInput, Fault, UnsupportedMedia
from service.intake.accounts import json_account
from service.intake.cell_checks import check_scale
from service.intake.draft import Draft
from service.intake.faults import FaultList
from service.intake.headings import WIDE
from service.intake.json_lines import json_lines
from service.intake.json_readings import json_draft
from service.intake.marks import Marks
from service.intake.media_types import JSON, NDJSON, READ, XLSX
from service.intake.strict_json import strict_json
from service.intake.table_checks import check_cells_once, check_rounds, refuse_over
from service.intake.tables import TableReader, check_count
from service.intake.values import State
from service.intake.workbook import workbook_readings
from service.settings import Limits
from service.trial.codes import names_of
from service.trial.names import checked_names
from service.trial.places import brief, pointer
from service.trial.readings_table import Readings
from service.trial.rounds import AssignedRounds
from service.trial.trial import Trial
from service.trial.trial_document import checked_trial

MANY = 10
"""So many times the channels that are taken are too many to look at each."""
BODY_KEYS = ("trial", "readings")


def read_batch(
    body: bytes,
    media_type: str,
    *,
    trial: Mapping[str, Any] | None,
    marks: Marks,
    limits: Limits,
    beside: Sequence[str] = (),
) -> tuple[Trial, Readings]:
    """The trial, with every name that its readings bring, and the readings.

    A JSON body without `trial` holds both ({"trial", "readings"}); with it, as a table does, the readings
    alone ({"readings"}, or the list itself). `beside` are keys of the body that somebody else reads. Raises
    BadInput with every fault of the trial and of the readings, BadRequest for what is no JSON or no table,
    TooLarge past a limit, UnsupportedMedia.
    """
    if media_type not in READ:
        raise UnsupportedMedia(f"{media_type} is not read; send {', '.join(READ)}.")
    if media_type == JSON:
        return _json_batch(body, trial, limits, beside=beside)
    faults = FaultList(in_json=False)
    checked = _checked(trial, faults, limits)
    meter = None if checked is None else checked.meter
    reader = TableReader(marks, meter, faults=faults, limits=limits)
    if media_type == NDJSON:
        draft, account = _json_lines(body, faults, limits)
    elif media_type == XLSX:
        draft, account = workbook_readings(body, reader, faults=faults, limits=limits)
    else:
        draft, account = reader.text(body, media_type)
    return _concluded(checked, draft, account, faults=faults, limits=limits)


def _json_batch(
    body: bytes, trial: Mapping[str, Any] | None, limits: Limits, *, beside: Sequence[str]
) -> tuple[Trial, Readings]:
    content = strict_json(body)
    keys = BODY_KEYS if trial is None else BODY_KEYS[1:]
    if trial is not None and isinstance(content, list):
        content = {"readings": content}
    if not isinstance(content, dict):
        detail = f"Send an object with {' and '.join(keys)}, the readings as a list."
        raise BadInput([Fault(detail, pointer="#", given=brief(content))])
    faults = FaultList(in_json=True)
    detail = f"This key is not known; a batch has {' and '.join(keys)}."
    faults.add(Fault(detail, pointer=pointer(key)) for key in content if key not in (*keys, *beside))
    checked = _checked(content.get("trial") if trial is None else trial, faults, limits)
    rows = _rows(content.get("readings"), faults)
    check_count(len(rows), limits)
    draft = json_draft(rows, faults, longest=limits.text_characters)
    return _concluded(checked, draft, json_account(draft, len(rows), JSON), faults=faults, limits=limits)


def _json_lines(body: bytes, faults: FaultList, limits: Limits) -> tuple[Draft, dict[str, Any]]:
    check_count(body.rstrip().count(b"\n"), limits)
    rows, lines = json_lines(body, faults)
    check_count(len(rows), limits)
    draft = json_draft(rows, faults, longest=limits.text_characters, lines=lines)
    return draft, json_account(draft, len(rows), NDJSON)


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


def _concluded(
    trial: Trial | None, draft: Draft, account: dict[str, Any], *, faults: FaultList, limits: Limits
) -> tuple[Trial, Readings]:
    if trial is not None:
        check_scale(draft, trial.meter, faults)
    if (draft.state == State.NOT_SCANNED).all() and not faults.rows_lost:
        faults.add([Fault("There is no reading at all; send at least one.", pointer="#/readings")])
    readings = Readings(draft.frame(), account)
    if account["shape"] != WIDE:
        check_cells_once(draft, faults)
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

    Without any reading that could be read, what the trial refers to cannot be looked for; with far more
    channels than are taken it is not.
    """
    if not len(readings.frame):
        return trial
    channels = len(names_of(readings.frame["channel"]))
    if channels > MANY * limits.channels:
        refuse_over("channels", channels, limits.channels, faults=faults)
        return trial
    whole, found = checked_names(trial, readings, assigned)
    faults.add(found)
    refuse_over("elements", len(whole.elements), limits.elements, faults=faults)
    refuse_over("channels", len(whole.channels), limits.channels, faults=faults)
    return whole
