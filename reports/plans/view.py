"""From a plan document to the finished strings of its run sheet."""

import json
from collections.abc import Iterator
from hashlib import sha256
from itertools import groupby

from reports import document as doc
from reports import numerals
from reports.language import say
from reports.plans import BLANK_BOXES
from reports.plans.cells import NOT_SCANNED, NOTHING_FOUND
from reports.plans.model import Box, Item, Round, Run, Sheet, Told
from reports.severities import SEVERITIES, gravest_first
from reports.view.model import Note
from reports.wording import plan, plan_cautions, plan_notes
from reports.wording.safety import site_of
from reports.wording.speech import Speech, speech_of
from reports.wording.vocabulary import UNITS

LONGEST_NAME = 26


def told(speech: Speech) -> Told:
    """What is told of a completed plan document."""
    document = speech.document
    return Told(
        title=doc.clean(speech.trial["title"] or "") or say("Trial without a title"),
        statement=document["statement"],
        filling=tuple(_filling(speech)),
        telling=tuple(_telling(speech)),
        shorter=tuple(plan.shorter(speech)),
        items=tuple(_items(speech)),
        notes=tuple(_notes(speech)),
        safety=tuple(document["safety"]),
    )


def sheet_view(document: doc.Document) -> Sheet:
    """The run sheet of a completed plan document."""
    speech = speech_of(document)
    return Sheet(
        **vars(told(speech)),
        sheet_id=sheet_id(document),
        seed=str(document["seed"]),
        site=site_of(speech.trial) or say("not told"),
        rounds=tuple(_rounds(speech)),
        end=say("End of the run sheet {identifier}", identifier=sheet_id(document)),
    )


def sheet_id(document: doc.Document) -> str:
    """What tells this sheet from others, from all that stands in the plan."""
    told = json.dumps({"trial": document["trial"], "order": document["order"]}, sort_keys=True)
    return f"plan-{sha256(told.encode('utf-8')).hexdigest()[:12]}"


def _filling(speech: Speech) -> Iterator[str]:
    """How the sheet is filled in."""
    unit = UNITS[speech.trial["meter"]["unit"]]
    allowed = speech.document["allowed"]
    low, high = (numerals.plain(allowed[name]) for name in ("lowest", "highest"))
    yield plan.order_rule(speech)
    yield plan.fresh(speech)
    yield say(
        "Write what the meter shows, in {unit}, from {low} to {high}. Leave no box empty: a dash where "
        "nothing was found (typed in as {mark_of_nothing}), a cross where the channel was not scanned (typed "
        "in as {mark_of_no_scan}). Write the time of the scan with the day, and what the weather was.",
        unit=unit.name,
        low=low,
        high=high,
        mark_of_nothing=NOTHING_FOUND,
        mark_of_no_scan=NOT_SCANNED,
    )


def _telling(speech: Speech) -> Iterator[str]:
    """What the plan can tell."""
    yield from (text for text in (plan.worthwhile(speech), plan.remount_study(speech)) if text)
    yield from plan.assumptions(speech)


def _items(speech: Speech) -> Iterator[Item]:
    given = {entry["id"]: entry for entry in speech.trial["elements"]}
    for entry in speech.document["elements"]:
        name, own = speech.label(entry["id"]), doc.clean(entry["id"])
        yield Item(name, "" if own == name else own, _role(speech, given[entry["id"]]))


def _role(speech: Speech, given: doc.Entry) -> str:
    """What an element is in the trial; "" for one that only competes."""
    if given["id"] == speech.trial["reference"]:
        return say("reference: run in every round, never altered")
    if given.get("twin_of"):
        return say("spare copy of {element}", element=speech.label(given["twin_of"]))
    if given.get("pad_of"):
        return say("attenuator in line: {element}", element=speech.label(given["pad_of"]))
    return ""


def _notes(speech: Speech) -> Iterator[Note]:
    for entry in gravest_first(speech.document["cautions"]):
        severity, title = say(SEVERITIES[entry["severity"]]), plan_cautions.title(entry["code"])
        yield Note(severity, title, plan_notes.shown(speech, entry))


def _rounds(speech: Speech) -> Iterator[Round]:
    order = speech.document["order"]
    boxes = tuple(_boxes(speech))
    size = len(speech.document["elements"])
    last = order[-1]["round"] if order else 0
    numbered = list(enumerate(order, start=1))
    for number, runs in groupby(numbered, key=lambda entry: entry[1]["round"]):
        yield Round(
            say("Round {round} of {rounds}", round=number, rounds=last),
            tuple(
                Run(
                    number=str(place),
                    where=say(
                        "round {round}, place {place} of {places}",
                        round=run["round"],
                        place=run["place"],
                        places=size,
                    ),
                    name=speech.label(run["element"]),
                    id=doc.clean(run["element"]),
                    boxes=boxes,
                )
                for place, run in runs
            ),
        )


def _boxes(speech: Speech) -> Iterator[Box]:
    channels = speech.trial["channels"]
    for channel in channels:
        name = doc.clean(channel.get("label") or channel["id"])
        signal = channel.get("rf_channel")
        yield Box(_cut(name), say("RF {channel}", channel=_cut(doc.clean(signal)) if signal else "____"))
    if not channels:
        yield from (Box("", "") for _ in range(BLANK_BOXES))


def _cut(name: str) -> str:
    return name if len(name) <= LONGEST_NAME else f"{name[: LONGEST_NAME - 1]}\N{HORIZONTAL ELLIPSIS}"
