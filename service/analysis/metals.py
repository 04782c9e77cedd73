"""What the metals of a trial's elements could explain between them."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from service.analysis.facts import Facts
from service.analysis.planned_channels import planned_channels
from service.radio.antenna import KINDS
from service.radio.channel_plan import PlannedChannel
from service.radio.conductor import Conductor
from service.radio.conductor_loss import Comparison, compare
from service.trial.element_conductor import conductor_of


@dataclass(frozen=True)
class MetalRow:
    """Two elements on one RF channel, as the kind of antenna in which their metals can make the most."""

    rf_channel: str
    channel: PlannedChannel
    kind: str
    found: Comparison


@dataclass(frozen=True)
class MetalPair:
    """The leader (`first`) and another element, the metals between them; `rows` is never empty.

    `complete` tells whether every RF channel that entered the scores has a row.
    """

    first: str
    second: str
    rows: tuple[MetalRow, ...]
    complete: bool

    @property
    def bound_db(self) -> float:
        """The most that the metals can make of the difference in score, a mean over RF channels.

        Where the frequency of some RF channel is not known, the largest of all others.
        """
        bounds = [row.found.metal_difference_bound_db for row in self.rows]
        return sum(bounds) / len(bounds) if self.complete else max(bounds)


def conductors(facts: Facts) -> dict[str, Conductor]:
    """The elements that compete and whose metal, diameter and length are known."""
    found = {name: conductor_of(facts.element(name)) for name in facts.competing_ids}
    return {name: found for name, found in found.items() if isinstance(found, Conductor)}


def metal_pairs(facts: Facts) -> Iterator[MetalPair]:
    """The leader against each other element of which enough is known; none where no metals are compared."""
    leader, known = facts.leader, conductors(facts)
    planned = planned_channels(facts)
    entered = [name for name in facts.table.rf_channels if name in planned]
    if facts.trial.compares != "element" or leader not in known or leader is None or not entered:
        return
    complete = len(entered) == len(facts.table.rf_channels)
    for name, conductor in known.items():
        if name != leader:
            pair = (known[leader], conductor)
            rows = tuple(_row(pair, channel, planned[channel]) for channel in entered)
            yield MetalPair(leader, name, rows, complete)


def _row(pair: tuple[Conductor, Conductor], rf_channel: str, channel: PlannedChannel) -> MetalRow:
    """The trial does not say what antenna it is: of the kinds whose formula holds, that gives metals more."""
    found = {kind: _compared(*pair, kind, channel.centre_mhz) for kind in KINDS}
    held = [kind for kind in KINDS if found[kind].valid] or list(KINDS)
    kind = max(held, key=lambda each: found[each].metal_difference_bound_db)
    return MetalRow(rf_channel, channel, kind, found[kind])


@lru_cache(maxsize=4096)
def _compared(first: Conductor, second: Conductor, kind: str, frequency_mhz: float) -> Comparison:
    return compare(first, second, kind, frequency_mhz=frequency_mhz)
