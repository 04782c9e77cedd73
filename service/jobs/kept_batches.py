"""A batch for a kept trial: read in a worker, then held against what the trial holds already."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from typing import Any

from service.errors import MOST_FAULTS, BadInput, Fault, StorageUnavailable
from service.intake.marks import Marks
from service.intake.media_types import JSON
from service.jobs.kept_documents import document_for_readings
from service.settings import Limits
from service.storage.batch_rows import READINGS, WITHDRAWAL, Account, Content, KeptColumns, compressed
from service.storage.packing import digest_of, packed, unpacked
from service.trial.readings_table import fault_of_reading

MOST_NAMES = 12


@dataclass(frozen=True)
class NewBatch:
    """What a request brings for a kept trial. `corrects` is the reason of a correction."""

    body: bytes
    media_type: str
    nothing_found: tuple[str, ...] = ()
    not_scanned: tuple[str, ...] = ()
    corrects: str | None = None


@dataclass(frozen=True)
class Held:
    """What the batches of a trial hold together: each run with its batches, each channel's RF channel."""

    rounds_from: str | None = None
    runs: Mapping[tuple[str, str], Sequence[int]] = field(default_factory=dict)
    channels: Mapping[str, str | None] = field(default_factory=dict)

    @property
    def elements(self) -> list[str]:
        """The elements that have readings, by code point."""
        return sorted({element for element, _ in self.runs})


def read_content(batch: NewBatch, document: Mapping[str, Any], limits: Limits) -> Content:
    """The batch as it will be kept; runs in the calling process. Raises whatever reading refuses."""
    from service.intake.batch import read_batch
    from service.trial.reading_columns import columns_of

    marks = Marks(nothing_found=batch.nothing_found, not_scanned=batch.not_scanned)
    with ThreadPoolExecutor(1) as beside:  # compressing frees the interpreter's lock
        body = beside.submit(compressed, batch.body)
        _, readings = read_batch(
            batch.body, batch.media_type, trial=document_for_readings(document), marks=marks, limits=limits
        )
        columns = columns_of(readings.frame)
        return Content(
            media_type=batch.media_type,
            columns=packed(columns.arrays),
            names=columns.names,
            holds=_holds(columns),
            rows=len(columns),
            read_as=readings.read_as,
            **body.result(),
        )


def _holds(columns: Any) -> dict[str, Any]:
    """Which runs and channels the readings are of; a run told by time alone is named by its element."""
    from service.trial.reading_columns import distinct_channels, distinct_runs

    return {
        "rounds_from": columns.rounds_from(),
        "runs": distinct_runs(columns),
        "channels": distinct_channels(columns),
    }


def standing(accounts: Iterable[Account]) -> list[Account]:
    """The batches of readings that were not withdrawn."""
    accounts = list(accounts)
    gone = {account.withdraws for account in accounts}
    return [account for account in accounts if account.kind != WITHDRAWAL and account.number not in gone]


def held_by(accounts: Iterable[Account]) -> Held:
    """What batches that stand hold together."""
    runs: defaultdict[tuple[str, str], list[int]] = defaultdict(list)
    channels: dict[str, str | None] = {}
    rounds_from = None
    for account in accounts:
        rounds_from = rounds_from or account.holds["rounds_from"]
        for element, place in account.holds["runs"]:
            runs[element, place].append(account.number)
        for channel, rf_channel in account.holds["channels"]:
            channels[channel] = channels.get(channel) or rf_channel
    return Held(rounds_from, runs, channels)


def batches_in_common(held: Held, holds: Mapping[str, Any]) -> list[int]:
    """The numbers of the batches that hold a run of the new one."""
    numbers = {number for run in holds["runs"] for number in held.runs.get(tuple(run), ())}
    return sorted(numbers)


def check_against(held: Held, content: Content, limits: Limits) -> None:
    """Raise BadInput where the new batch and those there are do not make one trial."""
    faults = _rounds_faults(held, content) + _channel_faults(held, content)
    runs = {*held.runs, *(tuple(run) for run in content.holds["runs"])}
    elements, rounds = {element for element, _ in runs}, {place for _, place in runs}
    counts = {
        "elements": (len(elements), limits.elements),
        "rounds": (len(rounds), limits.rounds),
        "channels": (len({*held.channels, *dict(content.holds["channels"])}), limits.channels),
        "pairs of elements times rounds": (
            len(elements) * (len(elements) - 1) // 2 * len(rounds),
            limits.pairs_times_rounds,
        ),
    }
    for what, (number, most) in counts.items():
        if number > most:
            detail = f"With this batch the trial has {number} {what}; at most {most} are taken."
            faults.append(Fault(f"{detail} Keep a new trial for what goes beyond.", given=number))
    if faults:
        raise BadInput(faults)


def _rounds_faults(held: Held, content: Content) -> list[Fault]:
    """Rounds are told one way through the whole trial; by the order of rows only within one batch."""
    given = content.holds["rounds_from"]
    if held.rounds_from is None or (given == held.rounds_from and given != "order of rows"):
        return []
    if given == held.rounds_from:
        detail = (
            "Neither the trial's readings nor those of this batch give a round, a mounting or a time: which "
            "rounds it belongs to cannot be told. Give the round in every row; withdraw the batch that is "
            "there and send it again with its rounds too."
        )
    else:
        detail = (
            f"The rounds of this trial are told by: {held.rounds_from}; those of this batch by: {given}. "
            "Give the same column in every batch."
        )
    return [Fault(detail, column="round")]


def _channel_faults(held: Held, content: Content) -> list[Fault]:
    faults = []
    for channel, rf_channel in content.holds["channels"]:
        there = held.channels.get(channel)
        if rf_channel is not None and there is not None and rf_channel != there:
            detail = (
                f"The channel {channel} stands on RF channel {there} in the batches that are there. A "
                "channel has one: where two share a name, call them by name and number."
            )
            faults.append(Fault(detail, column="rf_channel", given=rf_channel))
    return faults


def refuse_repeats(content: Content, numbers: Sequence[int], places: Sequence[Any]) -> None:
    """Raise BadInput where readings of the new batch are held by others.

    `places` are, for each of the batches `numbers`, the positions in the new one of what that batch holds;
    of several batches with the same cell the last is named.
    """
    holder = {
        int(position): number
        for number, positions in zip(numbers, places, strict=True)
        for position in positions
    }
    if holder:
        columns = unpacked(content.columns, digest_of(content.columns))
        first = sorted(holder)[:MOST_FAULTS]
        faults = [_repeat(content, columns, position, holder[position]) for position in first]
        raise BadInput(faults, count=len(holder))


def _repeat(content: Content, columns: Mapping[str, Any], position: int, number: int) -> Fault:
    channel = content.names["channel"][int(columns["channel"][position])]
    element = content.names["element"][int(columns["element"][position])]
    detail = (
        f"Batch {number} holds this cell already ({element}, {channel}). Take it out; or, to put it in place "
        f"of the one there, send the batch with corrects=REASON; or take batch {number} back with "
        f"withdraws={number}&reason=TEXT. Earlier readings stay in the history."
    )
    in_json = content.media_type == JSON
    return fault_of_reading(int(columns["row"][position]), "channel", detail, given=channel, in_json=in_json)


def as_kept(content: Content) -> KeptColumns:
    """The new batch as if it were kept already."""
    return KeptColumns(
        0, READINGS, content.columns, digest_of(content.columns), content.names, content.read_as
    )


def withdrawable(accounts: Sequence[Account], number: int) -> None:
    """Raise BadInput where the batch of that number cannot be withdrawn."""
    there = [account.number for account in standing(accounts)]
    if number not in there:
        told = ", ".join(map(str, there[-MOST_NAMES:])) or "none"
        detail = f"No batch {number} stands in this trial. Batches that can be withdrawn: {told}."
        raise BadInput([Fault(detail, column="withdraws", given=number)])


def busy() -> StorageUnavailable:
    """The error of a trial that changes faster than a batch can be read."""
    return StorageUnavailable(
        "The trial was changed several times while this batch was read. Send it again.",
        headers={"Retry-After": "1"},
    )
