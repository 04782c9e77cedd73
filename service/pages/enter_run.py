"""A run entered by hand beside the set: channel by channel, kept whole or not at all."""

import json
from collections.abc import Mapping, Sequence
from functools import partial
from typing import Any, Final

from flask import Response, request

from reports.document import clean
from reports.language import marked, say
from service.errors import BadInput, Fault, ServiceError
from service.intake.media_types import JSON
from service.jobs.run_entry import RunEntry, run_entry
from service.pages.answering import see, shown
from service.pages.declaring import Pages
from service.pages.enter_names import names_answer
from service.pages.entry_page import asked_run, entry_page
from service.pages.fields import Values
from service.pages.joined import joined
from service.pages.run_rows import Faults, faults_by_channel, readings_of
from service.pages.sent_once import keyed
from service.pages.titles import titled
from service.pages.told_faults import told
from service.pages.troubles import Trouble

enter_run = Pages("enter-run")

RULE: Final = "/kept/<trial_id>/enter"
NOTHING: Final = marked(
    "Every channel is marked not scanned, so there is nothing to keep. Enter at least one channel."
)


@enter_run.page(RULE)
def show_entry(trial_id: str) -> Response:
    """The form for the run that comes next, or for the one that is asked for."""
    return _answer(trial_id, _entry(trial_id), request.args.to_dict())


@enter_run.page(RULE, method="POST")
def keep_run(trial_id: str) -> Response:
    """Keep the run, all of it or nothing."""
    values = request.form.to_dict()
    entry = _entry(trial_id)
    if not _named(entry):
        return _answer(trial_id, entry, values)
    readings, faults = readings_of(entry.channels, values, run=_shared(entry, values), meter=entry.meter)
    if faults:
        return _answer(trial_id, entry, values, faults=faults, status=422)
    try:
        batch = _kept(trial_id, readings, values.get("key", ""))
    except ServiceError as error:
        placed, trouble = _placed(error, readings)
        return _answer(trial_id, entry, values, faults=placed, trouble=trouble, status=error.status)
    joined().kept().analyses.ask(joined().owner(), trial_id)
    return see(f"/kept/{trial_id}/enter?kept={batch}")


def _entry(trial_id: str) -> RunEntry:
    owner, desks, limits = joined().owner(), joined().kept(), joined().limits
    work = partial(run_entry, desks.trials.material(owner, trial_id), limits)
    return desks.runner.run(work, seconds=limits.analysis_seconds)


def _answer(
    trial_id: str,
    entry: RunEntry,
    values: Values,
    *,
    faults: Faults | None = None,
    trouble: Trouble | None = None,
    status: int = 200,
) -> Response:
    document = joined().kept().trials.get(joined().owner(), trial_id).document
    if not _named(entry):
        return names_answer(document, values)
    of = (trial_id, clean(titled(document.get("title"))))
    run = asked_run(entry, values)
    page = entry_page(entry, run, values, of=of, faults=faults or {}, trouble=trouble)
    return shown(
        "enter_run.html",
        page,
        title=say("{element}, round {round}: enter a run", element=page.label, round=page.round),
        section="/kept",
        styles=("enter-run.css",),
        scripts=("enter-run.js",),
        status=status,
    )


def _named(entry: RunEntry) -> bool:
    """Whether there is an element to put on and a channel to read."""
    return bool(entry.channels and entry.coming.labels)


def _shared(entry: RunEntry, values: Values) -> dict[str, Any]:
    """What all readings of the run say."""
    element, number = asked_run(entry, values)
    at = values.get("at", "").strip()
    return {"element": element, "round": number} | ({"at": at} if at else {})


def _kept(trial_id: str, readings: Sequence[Mapping[str, Any]], key: str) -> int:
    """The number of the batch that keeps them. Raises what keeping refuses, and BadInput for none at all."""
    from service.jobs.kept_batches import NewBatch
    from service.jobs.kept_readings import Place

    if not readings:
        raise BadInput([Fault(say(NOTHING), column="readings")])
    batch = NewBatch(json.dumps({"readings": readings}, ensure_ascii=False).encode(), JSON)
    place = Place(joined().owner(), trial_id, keyed(key, batch))
    return int(joined().kept().readings.add(place, batch).document["batch"])


def _placed(error: ServiceError, readings: Sequence[Mapping[str, Any]]) -> tuple[Faults, Trouble | None]:
    """The faults of single channels, and what else is wrong."""
    if not isinstance(error, BadInput):
        return {}, told(error)
    placed, others = faults_by_channel(error.faults, readings)
    return placed, told(BadInput(others)) if others else None
