"""Bell-shaped references: what the largest T and the leader's T come to when no element differs.

Independent normal readings of the same number of elements and rounds, in two patterns: all elements equally
noisy, and the first three times as noisy as the others. Residuals shuffled on their own call too often with
few rounds, coarse meters and unequal noise; these references hold there. From the critical values of the
two patterns the larger counts, with its own level.
"""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from service.statistics.looks import Boundary, Plan, Steps, look_rounds, step_cells
from service.statistics.random_streams import BELL_SEED, Purpose, Stream
from service.statistics.results import Floats, Look
from service.statistics.running_pairs import RunningPairs

NOISY = 3.0  # times as noisy is the first element in the second pattern
FOLLOW_ON_DRAWS = 4_000  # for simulated rounds to come
_TIERS = ((1_000, 100_000), (10_000, 20_000))
_READINGS = 50_000  # of a round worked on at once: the two threads hinder each other where parts are small
_BLOCK = 40  # rounds worked on at once: bounds memory in long trials
_PATTERNS = (0, 1)

Arrays = Mapping[str, NDArray[np.float64]]


class Store(Protocol):
    """Keeps references once computed: the name says everything they depend on."""

    def fetch(self, name: str, compute: Callable[[], Arrays]) -> Arrays:
        """What is kept under the name, else what compute makes, kept from then on."""


class MemoryStore:
    """Keeps the references of one process; the oldest are dropped beyond the capacity."""

    def __init__(self, capacity: int = 48):
        self._kept: dict[str, Arrays] = {}
        self._capacity = capacity

    def fetch(self, name: str, compute: Callable[[], Arrays]) -> Arrays:
        """What is kept under the name, else what compute makes, kept from then on."""
        if name not in self._kept:
            made = compute()
            while len(self._kept) >= self._capacity:
                self._kept.pop(next(iter(self._kept)), None)
            self._kept[name] = made
        return self._kept[name]


@dataclass(frozen=True)
class BellReference:
    """Looks up to a round, and the sorted maxima there: shape (2 patterns, draws); for two elements empty."""

    looks: tuple[Look, ...]
    maxima: Floats
    draws: int

    def at(self, rounds: int) -> Look | None:
        """The look after this round, null where there is none."""
        return next((look for look in self.looks if look.round == rounds), None)

    def share(self, statistic: Floats) -> Floats:
        """The larger of the two patterns' shares of maxima at or above each statistic (times 1 - 1e-9)."""
        bound = np.asarray(statistic) * (1 - 1e-9)
        counts = [self.draws - np.searchsorted(pattern, bound, side="left") for pattern in self.maxima]
        return np.asarray(np.max(np.array(counts), axis=0) / self.draws)


def bell_draws(elements: int, rounds: int) -> int:
    """Number of draws: 100 000 where pairs x rounds is at most 1 000, 20 000 to 10 000, 4 000 above."""
    size = elements * (elements - 1) // 2 * rounds
    return next((draws for most, draws in _TIERS if size <= most), 4_000)


def bell_reference(
    elements: int, rounds: int, plan: Plan, *, store: Store, draws: int | None = None
) -> BellReference:
    """The reference for complete rounds of K elements: looks with critical values, and maxima at the end.

    elements >= 2, rounds >= 1. draws: by bell_draws unless given. Two elements: the t statistic of
    normal differences against whole steps of the sign-flip distribution.
    """
    number = bell_draws(elements, rounds) if draws is None else draws
    name = (
        f"bell-{elements}-{rounds}-{plan.planned}-{plan.alpha!r}-"
        f"{'every' if plan.every_round else 'end'}-{number}"
    )
    make = _two_elements if elements == 2 else _three_or_more
    kept = store.fetch(name, lambda: make(elements, rounds, plan, draws=number))
    return BellReference(tuple(_looks(kept)), np.asarray(kept["maxima"]), number)


def statistics_by_round(
    elements: int, wanted: Sequence[int], *, pattern: int, draws: int
) -> Iterator[tuple[int, Floats, Floats]]:
    """Round, largest T of all pairs and T of the first pair, each of shape (draws,), of the rounds wanted.

    wanted: rounds from 2 on, rising; every draw goes through all rounds to the last of them.
    """
    last = wanted[-1] if wanted else 0
    parts = _parts(draws, elements)
    states = _states(elements, parts, kept=last > _BLOCK)
    for start in range(1, last + 1, _BLOCK):
        block = range(start, min(start + _BLOCK, last + 1))
        here = [number for number in wanted if number in block]
        largest, leader = np.empty((len(here), draws)), np.empty((len(here), draws))
        streams = [_stream(elements, number, pattern) for number in block]
        for part, running in zip(parts, states, strict=True):
            if start == 1:
                running.begin()
            for row, squared in enumerate(_walk(running, streams, here, noisy=bool(pattern))):
                largest[row, part], leader[row, part] = squared.max(axis=0), squared[0]
        yield from zip(here, np.sqrt(largest, out=largest), np.sqrt(leader, out=leader), strict=True)


def _parts(draws: int, elements: int) -> list[slice]:
    """The draws in equal parts that are worked on one after the other."""
    size = math.ceil(draws / math.ceil(draws * elements / _READINGS))
    return [slice(first, min(first + size, draws)) for first in range(0, draws, size)]


def _states(elements: int, parts: Sequence[slice], *, kept: bool) -> list[RunningPairs]:
    """Running pairs for each part: of its own if kept from block to block, else shared by parts of a size."""
    sizes = [part.stop - part.start for part in parts]
    work = np.empty((2, elements * (elements - 1) // 2, sizes[0]))
    if kept:
        return [RunningPairs(elements, size, work[:, :, :size]) for size in sizes]
    shared = {size: RunningPairs(elements, size, work[:, :, :size]) for size in set(sizes)}
    return [shared[size] for size in sizes]


def _stream(elements: int, number: int, pattern: int) -> Stream:
    return Stream(BELL_SEED, Purpose.BELL_SHAPED, elements=elements, round_number=number, pattern=pattern)


def _walk(
    running: RunningPairs, streams: Sequence[Stream], wanted: Sequence[int], *, noisy: bool
) -> Iterator[Floats]:
    """Add a round from each stream; the squared statistics after each wanted round."""
    elements, draws = running.totals.shape
    for stream in streams:
        values = stream.normals(draws, elements).T.copy()
        values[0] *= NOISY if noisy else 1.0
        running.add(values)
        if running.rounds in wanted:
            yield running.squared_statistics(floor=0.0)


def _three_or_more(elements: int, rounds: int, plan: Plan, *, draws: int) -> Arrays:
    looking = list(look_rounds(plan, elements, rounds))
    with ThreadPoolExecutor(len(_PATTERNS)) as threads:  # the patterns share nothing, numpy frees the lock
        made = threads.map(
            lambda pattern: _pattern_table(elements, rounds, plan, pattern=pattern, draws=draws), _PATTERNS
        )
        tables, maxima = zip(*made, strict=True)
    spent = [plan.spent(r, elements=elements) for r in looking]
    both = np.array(tables).reshape(2, len(looking), 3)
    larger = both[:, :, 0].argmax(axis=0)
    rows = np.arange(len(looking))
    return {
        "round": np.array(looking, dtype=float),
        "spent": np.array(spent),
        "critical": both[larger, rows, 0],
        "level": both[larger, rows, 1],
        "leader": both[:, :, 2].max(axis=0),
        "maxima": np.array(maxima),
    }


def _pattern_table(
    elements: int, rounds: int, plan: Plan, *, pattern: int, draws: int
) -> tuple[list[tuple[float, float, float]], Floats]:
    """Per look (critical, level, leader's critical) of one pattern; and the last round's maxima, sorted."""
    pairs, leader = Boundary(draws), Boundary(draws)
    table, last = [], np.empty(0)
    wanted = [r for r in range(2, rounds + 1) if r == rounds or plan.is_look(elements, r)]
    for number, largest, first in statistics_by_round(elements, wanted, pattern=pattern, draws=draws):
        last = largest
        if plan.is_look(elements, number):
            error = {
                "spent": plan.spent(number, elements=elements),
                "counted": plan.counted(number, elements=elements),
            }
            critical, level = pairs.look(largest, **error)
            table.append((critical, level, leader.look(first, **error)[0]))
    return table, np.sort(last)


def _two_elements(elements: int, rounds: int, plan: Plan, *, draws: int) -> Arrays:
    steps = Steps(draws)
    rows = []
    looking = list(look_rounds(plan, elements, rounds))
    for number, statistic, _ in statistics_by_round(elements, looking, pattern=0, draws=draws):
        spent = plan.spent(number, elements=elements)
        rows.append((number, spent, steps.look(statistic, rounds=number, spent=spent)))
    table = np.array(rows, dtype=float).reshape(len(rows), 3)
    return {"round": table[:, 0], "spent": table[:, 1], "order": table[:, 2], "maxima": np.empty((0, 0))}


def _looks(kept: Arrays) -> Iterator[Look]:
    for place, number in enumerate(kept["round"]):
        spent = float(kept["spent"][place])
        if "order" in kept:
            order = int(kept["order"][place])
            yield Look(int(number), spent, _step_level(order, int(number)), order=order)
        else:
            yield Look(
                int(number),
                spent,
                float(kept["level"][place]),
                float(kept["critical"][place]),
                float(kept["leader"][place]),
            )


def _step_level(order: int, rounds: int) -> float:
    return 2.0 * order / step_cells(rounds)
