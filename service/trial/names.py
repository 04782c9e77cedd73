"""The trial with the elements and channels that only its readings name, and whether its references hold."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

import numpy as np
import pandas as pd

from service.errors import BadInput, Fault
from service.trial.codes import names_of
from service.trial.places import pointer
from service.trial.readings_table import Readings
from service.trial.rf_channels import rf_channels
from service.trial.rounds import AssignedRounds, assign_rounds
from service.trial.trial import Channel, Element, Trial

MOST_NAMES_TOLD = 12


def with_names_of(trial: Trial, readings: Readings) -> Trial:
    """The trial with every element and channel of the readings.

    New ones follow those of the trial by code point of their id, their label is the id; channels get the RF
    channel that the readings give. Raises BadInput where a channel stands on two RF channels and where
    reference, twin_of, pad_of, struck or known_repeatability name what is not there.
    """
    whole, faults = checked_names(trial, readings, assign_rounds(readings) if trial.struck else None)
    if faults:
        raise BadInput(faults)
    return whole


def checked_names(
    trial: Trial, readings: Readings, assigned: AssignedRounds | None
) -> tuple[Trial, list[Fault]]:
    """The trial of `with_names_of` and all that it would refuse.

    `assigned` are the readings with their rounds; None where faults elsewhere keep them from being told: the
    rounds of struck runs are then not looked at.
    """
    given, faults = _rf_channels_given(trial, readings)
    known = {element.id for element in trial.elements}
    new_elements = [Element(name) for name in names_of(readings.frame["element"]) if name not in known]
    known = {channel.id for channel in trial.channels}
    new_channels = [Channel(name) for name in names_of(readings.frame["channel"]) if name not in known]
    channels = (
        replace(channel, rf_channel=channel.rf_channel or given.get(channel.id))
        for channel in (*trial.channels, *new_channels)
    )
    whole = replace(trial, elements=(*trial.elements, *new_elements), channels=tuple(channels))
    runs = readings.frame if assigned is None else assigned.frame
    faults += control_faults(whole)
    faults += _strike_faults(whole, runs, rounds_known=assigned is not None)
    faults += known_faults(whole)
    return whole, faults


def _rf_channels_given(trial: Trial, readings: Readings) -> tuple[dict[str, str], list[Fault]]:
    """The RF channel of each channel as the readings give it, and a fault for each channel on two of them."""
    rows = readings.frame[["channel", "rf_channel"]].assign(position=np.arange(len(readings.frame)))
    rows = rows[rows["rf_channel"].notna()]
    said = {channel.id: channel.rf_channel for channel in trial.channels if channel.rf_channel is not None}
    first: dict[str, tuple[str, int]] = {}
    pairs = rows.drop_duplicates(["channel", "rf_channel"])
    for channel, rf_channel, position in pairs.itertuples(index=False):
        if said.setdefault(channel, rf_channel) != rf_channel:
            first.setdefault(channel, (rf_channel, int(position)))
    if not first:
        return said, []
    texts = rows[["channel", "rf_channel"]].astype(object)
    against = Counter(texts["channel"][texts["rf_channel"] != texts["channel"].map(said)])
    faults = []
    for channel, (rf_channel, position) in first.items():
        detail = (
            f"The channel {channel} stands on RF channel {said[channel]} and on {rf_channel} (readings that "
            f"do not say {said[channel]}: {against[channel]}). A channel has one: where two channels share a "
            "name, call them by name and number."
        )
        faults.append(readings.fault(position, "rf_channel", detail))
    return said, faults


def control_faults(trial: Trial) -> list[Fault]:
    """Reference, twins and pads that name an element which is not there or is itself a twin or a pad."""
    roles = {element.id: element.role for element in trial.elements}
    faults = []
    if trial.reference is not None and trial.reference not in roles:
        faults.append(_not_there(trial.reference, roles, "reference"))
    for index, element in enumerate(trial.elements):
        for name, target in (("twin_of", element.twin_of), ("pad_of", element.pad_of)):
            if target is None:
                continue
            if target not in roles:
                faults.append(_not_there(target, roles, "elements", index, name))
            elif roles[target] != "competes":
                detail = f"{target} is itself a twin or a pad; name the element that it stands for."
                faults.append(Fault(detail, pointer=pointer("trial", "elements", index, name), given=target))
    return faults


def _strike_faults(trial: Trial, frame: pd.DataFrame, *, rounds_known: bool) -> list[Fault]:
    """Struck runs that are not there: a strike that strikes nothing would pass unnoticed.

    A strike whose element or round is faulty itself is not told twice.
    """
    if not trial.struck:
        return []
    runs = frame[["element", "round"]].drop_duplicates()
    rounds_of = {str(name): list(group["round"]) for name, group in runs.groupby("element", observed=True)}
    faults = []
    for index, strike in enumerate(trial.struck):
        rounds_there = rounds_of.get(strike.element, [])
        if strike.element and not rounds_there:
            faults.append(_not_there(strike.element, rounds_of, "struck", index, "element"))
        elif strike.element and strike.round and rounds_known and strike.round not in rounds_there:
            rounds = _listed(str(number) for number in sorted(rounds_there))
            detail = f"{strike.element} has no run in this round; it has runs in round {rounds}."
            place = pointer("trial", "struck", index, "round")
            faults.append(Fault(detail, pointer=place, given=strike.round))
    return faults


def known_faults(trial: Trial) -> list[Fault]:
    """RF channels of a known repeatability on which no channel of the trial stands."""
    if trial.known_repeatability is None:
        return []
    there = rf_channels(trial).names
    return [
        Fault(
            f"No channel stands on this RF channel; there are {_listed(there)}.",
            pointer=pointer("trial", "known_repeatability", "rf_channels", index),
            given=name,
        )
        for index, name in enumerate(trial.known_repeatability.rf_channels)
        if name not in there
    ]


def _not_there(given: str, there: Iterable[str], *steps: object) -> Fault:
    detail = f"No element of this id is in the trial or in its readings; there are {_listed(there)}."
    return Fault(detail, pointer=pointer("trial", *steps), given=given)


def _listed(names: Iterable[str]) -> str:
    told = [name for name in names if name]
    more = len(told) - MOST_NAMES_TOLD
    return ", ".join(told[:MOST_NAMES_TOLD]) + (f" and {more} more" if more > 0 else "")
