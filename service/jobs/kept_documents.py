"""The document of a kept trial: checked, changed by a merge patch, and what of it moves a verdict."""

from collections.abc import Collection, Mapping
from dataclasses import asdict, replace
from typing import Any

from service.errors import BadInput, Fault
from service.settings import Limits
from service.trial.history import PLAN_FIELDS, plan_of
from service.trial.places import brief, pointer
from service.trial.texts import name_fault
from service.trial.trial import Trial
from service.trial.trial_document import TRIAL_FIELDS, checked_trial

Document = dict[str, Any]
METER_OF_READINGS = ("unit", "lowest", "highest", "impedance_ohm")
"""What readings were read by; it cannot change under them."""


def checked_document(document: object, limits: Limits) -> Trial:
    """The trial of a document that is to be kept.

    Raises BadInput with every fault, placed in the document itself (#/meter/unit). Whether the names that it
    refers to are there is seen when it is analysed.
    """
    trial, faults = checked_trial(document, limits=limits)
    if trial is None or faults:
        raise BadInput([_in_document(fault) for fault in faults])
    return trial


def merged(document: object, patch: object) -> Any:
    """The document changed by a merge patch (RFC 7396): members are replaced, null takes them out."""
    if not isinstance(patch, Mapping):
        return patch
    whole = dict(document) if isinstance(document, Mapping) else {}
    for name, value in patch.items():
        if value is None:
            whole.pop(name, None)
        else:
            whole[name] = merged(whole.get(name), value)
    return whole


def taken_patch(patch: object, limits: Limits) -> tuple[Document, str | None]:
    """The members of a patch that change the trial, and its reason. Raises BadInput for others."""
    if not isinstance(patch, dict):
        detail = 'Send an object with what is to change: {"margin": 0.5, "reason": "..."}.'
        raise BadInput([Fault(detail, pointer="#", given=brief(patch))])
    allowed = ", ".join((*TRIAL_FIELDS, "reason"))
    faults = [
        Fault(f"No field of this name is known here. Allowed: {allowed}.", pointer=pointer(name))
        for name in patch
        if name not in (*TRIAL_FIELDS, "reason")
    ]
    reason = patch.get("reason")
    if "reason" in patch:
        faults += reason_faults(reason, limits)
    if faults:
        raise BadInput(faults)
    return {name: value for name, value in patch.items() if name != "reason"}, reason


def reason_faults(reason: object, limits: Limits) -> list[Fault]:
    """What is wrong with a reason given in a body."""
    if not isinstance(reason, str):
        return [Fault("Give the reason as a text in quotes.", pointer="#/reason", given=brief(reason))]
    wrong = name_fault(reason, limits.text_characters)
    return [Fault(f"The text {wrong}.", pointer="#/reason", given=brief(reason))] if wrong else []


def changed_fields(
    before: Trial, after: Trial, *, held: Collection[str], channels: Collection[str]
) -> tuple[Document, Document]:
    """Those fields that move a verdict and differ, as they were and as they are to be.

    `held` and `channels` are the elements and channels that have readings: what another one is, is free.
    """
    old = _deciding_fields(before, held, channels)
    new = _deciding_fields(after, held, channels)
    names = [name for name in old if old[name] != new[name]]
    return {name: old[name] for name in names}, {name: new[name] for name in names}


def check_meter(before: Trial, after: Trial) -> None:
    """Raise BadInput where the meter that readings were read by is to be another."""
    faults = [
        Fault(
            "The readings were read by this meter, so it stays as it is. Withdraw the batches first, or keep "
            "a new trial for the other meter.",
            pointer=pointer("meter", name),
            given=brief(getattr(after.meter, name)),
        )
        for name in METER_OF_READINGS
        if getattr(before.meter, name) != getattr(after.meter, name)
    ]
    if faults:
        raise BadInput(faults)


def check_reason(after: Mapping[str, Any], reason: str | None) -> None:
    """Raise BadInput where what moves a verdict is to change without a reason."""
    detail = (
        "This moves the verdict of readings that are there already: give a reason with it. It is kept with "
        "the date and printed in every report."
    )
    if after and reason is None:
        raise BadInput([Fault(detail, pointer=pointer(name), given=brief(after[name])) for name in after])


def plan_document(trial: Trial) -> Document:
    """The trial's plan, defaults filled in."""
    return asdict(plan_of(trial))


def document_for_readings(document: Mapping[str, Any]) -> Document:
    """What of the document reading a batch needs: no names are referred to that the batch may not have."""
    elements = [{"id": element["id"]} for element in document.get("elements") or []]
    channels = document.get("channels") or []
    return {"meter": document["meter"], "elements": elements, "channels": channels}


def _deciding_fields(trial: Trial, held: Collection[str], channels: Collection[str]) -> Document:
    document = trial.document()
    roles = {
        element.id: {"twin_of": element.twin_of, "pad_of": element.pad_of, "pad_db": element.pad_db}
        for element in trial.elements
        if element.id in held and element.role != "competes"
    }
    rf_channels = {channel.id: channel.rf_channel for channel in trial.channels if channel.id in channels}
    return {
        **{name: document[name] for name in (*PLAN_FIELDS, "struck", "seed", "known_repeatability")},
        "resolution": trial.meter.resolution,
        "roles": roles,
        "rf_channels": {
            name: rf_channel for name, rf_channel in rf_channels.items() if rf_channel is not None
        },
    }


def _in_document(fault: Fault) -> Fault:
    place = (fault.pointer or "#").removeprefix("#/trial")
    return replace(fault, pointer=place if place.startswith("#") else f"#{place}")
