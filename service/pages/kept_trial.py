"""One kept trial: what to put on next, the verdict so far, and what may be sent to it."""

import secrets
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final
from urllib.parse import quote_plus

from flask import Response

from reports import numerals
from reports.document import MORE
from reports.language import marked, say, say_number
from service.jobs.next_runs import NextRuns
from service.pages.answering import Link, shown
from service.pages.coming import runs_to_come
from service.pages.declaring import Pages
from service.pages.fields import OPENED, Choice, Values, choice, chosen
from service.pages.joined import joined
from service.pages.next_run_told import NextRunTold, next_run_told
from service.pages.start import drawn_parts
from service.pages.titles import titled
from service.pages.troubles import Trouble
from service.pages.verdict_forms import offered_forms
from service.pages.verdict_so_far import SoFar, Stage, so_far, stages

if TYPE_CHECKING:
    from reports.view.model import Report, Section

kept_trial = Pages("kept-trial")

DRAWN: Final = ("narrowing",)
"""The picture of the trial's course, drawn beside the ranking; with more the page would weigh too much."""
FIRST: Final = ("one-scan", "rounds")
"""Sections about the course of the trial, which follow the answer."""
MENDING: Final = frozenset({"strike_reason", "withdraw_reason"})
NO_READINGS: Final = marked("No readings have come yet.")
NOT_ASKED: Final = marked("The readings have changed since the last verdict, or none was asked for yet.")


@dataclass(frozen=True)
class UnderWay:
    """A verdict that is being worked out: what is said of it, and where a script looks whether it is done.

    stages: what it says then.
    """

    told: str
    watched: str
    stages: tuple[Stage, ...]


@dataclass(frozen=True)
class TrialForms:
    """The forms by which a trial is fed and mended; `key` is that of a batch, `version` the trial's."""

    table: str
    corrects: str
    key: str
    version: str
    opened: tuple[str, ...]
    runs: tuple[Choice, ...]
    round: str
    strike_reason: str
    batches: tuple[Choice, ...]
    withdraw_reason: str


@dataclass(frozen=True)
class TrialPage:
    """A kept trial; the next run stands before a verdict that is open, as `going_on` behind a settled one."""

    title: str
    address: str
    facts: tuple[str, ...]
    troubles: tuple[Trouble, ...]
    next_run: tuple[NextRunTold, ...]
    going_on: tuple[NextRunTold, ...]
    ways: tuple[Link, ...]
    said: tuple[str, ...]
    under_way: tuple[UnderWay, ...]
    not_asked: tuple[str, ...]
    report: "tuple[Report, ...]"
    first: "tuple[Section, ...]"
    cautions: "tuple[Section, ...]"
    sections: "tuple[Section, ...]"
    reports: tuple[Link, ...]
    forms: tuple[TrialForms, ...]


@kept_trial.page("/kept/<trial_id>")
def show_trial(trial_id: str) -> Response:
    """The trial as it is."""
    return trial_answer(trial_id)


def trial_answer(
    trial_id: str, *, trouble: Trouble | None = None, values: Values | None = None, status: int = 200
) -> Response:
    """The page of a trial; with what went wrong in one of its forms, and what was filled in there."""
    owner, desks = joined().owner(), joined().kept()
    seen = desks.trials.get(owner, trial_id)
    material = desks.trials.material(owner, trial_id)
    coming = runs_to_come(material)
    found = so_far(trial_id, seen.version) if material.batches else SoFar()
    page = _page(seen.document, coming, found, values=values or {}, trouble=trouble)
    scripts = ("readings.js", "waiting.js", "folding.js")
    return shown("trial.html", page, title=page.title, scripts=scripts, section="/kept", status=status)


def _page(
    document: Mapping[str, Any],
    coming: NextRuns | None,
    found: SoFar,
    *,
    values: Values,
    trouble: Trouble | None,
) -> TrialPage:
    address = f"/kept/{document['id']}"
    parts = None if found.document is None else drawn_parts(found.document, DRAWN, FIRST)
    there = document["kept"]["held"]["runs"] > 0
    settled = found.document is not None and found.document["verdict"]["outcome"] != MORE
    runs = () if coming is None else next_run_told(coming)
    idle = there and parts is None and not found.under_way and not found.failed
    return TrialPage(
        title=titled(document.get("title")),
        address=address,
        facts=_facts(document, coming),
        troubles=tuple(one for one in (trouble, *found.failed) if one is not None),
        next_run=() if settled else runs,
        going_on=runs if settled else (),
        ways=(
            Link(f"{address}/enter", say("Enter this run by hand")),
            Link(f"/plan?continues={document['id']}", say("Plan the rounds to come")),
            Link(f"{address}/board", say("Table for a club day")),
        ),
        said=() if there else (say(NO_READINGS),),
        under_way=tuple(_under_way(found)),
        not_asked=(say(NOT_ASKED),) if idle else (),
        report=() if parts is None else (parts.report,),
        first=() if parts is None else parts.first,
        cautions=() if parts is None else parts.cautions,
        sections=() if parts is None else parts.sections,
        reports=() if parts is None else tuple(_links(address)),
        forms=(_forms(document, values),),
    )


def _under_way(found: SoFar) -> Iterator[UnderWay]:
    if found.under_way:
        yield UnderWay(found.under_way, f"/v1/analyses/{found.id}", stages())


def _facts(document: Mapping[str, Any], coming: NextRuns | None) -> tuple[str, ...]:
    held = document["kept"]["held"]
    runs = say(
        "{runs} of {elements}",
        runs=numerals.number_of(held["runs"], "run", "runs"),
        elements=numerals.number_of(len(held["elements"]), "element", "elements"),
    )
    channels = numerals.number_of(held["channels"], "channel", "channels")
    if coming is None:
        return runs, channels
    done, planned = coming.rounds_done, coming.planned_rounds
    return say("{done} of {planned} planned rounds are whole", done=done, planned=planned), runs, channels


def _links(address: str) -> list[Link]:
    return [Link(f"{address}/report?form={quote_plus(form.value)}", form.text) for form in offered_forms()]


def _batch(batch: Mapping[str, Any]) -> str:
    return say_number(
        "batch {batch}: {number} reading",
        "batch {batch}: {number} readings",
        batch["rows"],
        batch=batch["number"],
        number=batch["rows"],
    )


def _forms(document: Mapping[str, Any], values: Values) -> TrialForms:
    history = document["kept"]["history"] or {"batches": []}
    standing = [
        batch for batch in history["batches"] if batch["withdraws"] is None and batch["withdrawn_by"] is None
    ]
    names = document["kept"]["held"]["elements"]
    elements = choice("element", say("Element"), [(name, name) for name in names])
    batches = [(str(one["number"]), _batch(one)) for one in standing]
    return TrialForms(
        table=values.get("table", ""),
        corrects=values.get("corrects", ""),
        key=secrets.token_hex(16),
        version=str(document["kept"]["version"]),
        opened=OPENED if values.keys() & MENDING else (),
        runs=(chosen(elements, values, {}),) if names else (),
        round=values.get("round", ""),
        strike_reason=values.get("strike_reason", ""),
        batches=(chosen(choice("batch", say("Batch"), batches), values, {}),) if batches else (),
        withdraw_reason=values.get("withdraw_reason", ""),
    )
