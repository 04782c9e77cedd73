"""`identical-runs`: two runs equal in every cell, as if copied, or never mounted afresh."""

import numpy as np

from service.analysis.cautions.caution import Caution, Severity
from service.analysis.facts import Facts
from service.statistics.full_agreement import full_agreement
from service.statistics.results import Flags, Floats

Run = tuple[int, int]
SURPRISING = 0.02  # pairs expected by chance


def identical_runs(facts: Facts) -> Caution | None:
    """Raised where two runs agree on every channel, in level and in what was found at all.

    Only channels that vary from run to run tell a copy from two honest runs, unless none varies; and a cell
    at an end of the scale, or where nothing was found, tells nothing, so that one other cell is needed. On a
    coarse or quiet meter honest runs agree throughout now and then: where neighbouring runs agree in so many
    cells that one such pair is no surprise, it is none here. Names each later run with the first one like it.
    A note only where a single channel tells: two readings agree easily.
    """
    by_channel, telling = facts.table.by_channel, _telling(facts)
    first: dict[bytes, Run] = {}
    by_chance = _by_chance(facts)
    pairs = []
    for element, number in np.argwhere(facts.held):
        run = (int(element), int(number))
        key = by_channel.levels[run].tobytes() + by_channel.received[run].tobytes()
        if not telling[run].any() or first.setdefault(key, run) == run:
            continue
        if by_chance[first[key][0] != run[0]] <= SURPRISING:
            pairs.append({"first": _named(facts, first[key]), "second": _named(facts, run)})
    severity: Severity = "note" if telling.any(axis=(0, 1)).sum() == 1 else "warning"
    return Caution("identical-runs", severity, {"pairs": pairs}) if pairs else None


def _telling(facts: Facts) -> Flags:
    """The cells that can tell a copy, (K, R, C)."""
    levels, meter = facts.table.by_channel.levels, facts.trial.meter
    inside = np.isfinite(levels)
    if meter.lowest is not None:
        inside &= levels > meter.lowest
    if meter.highest is not None:
        inside &= levels < meter.highest
    varies = _varies(facts)
    return np.asarray(inside & (varies if varies.any() else True))


def _varies(facts: Facts) -> Flags:
    """Which channels differ between two runs, in level or in what was found, (C,)."""
    by_channel = facts.table.by_channel
    held = [table[facts.held] for table in (by_channel.levels, by_channel.received)]
    different = [(_filled(table) != _filled(table)[:1]).any(axis=0) for table in held]
    return np.asarray(different[0] | different[1])


def _by_chance(facts: Facts) -> tuple[float, float]:
    """Pairs of honest runs expected to agree throughout: of one element, of two. 0 where no channel varies.

    The chance of one pair is told by neighbours: runs of one element in rounds that follow each other, and
    of elements that stand beside each other within a round.
    """
    varies = _varies(facts)
    runs = facts.held.sum(axis=1)
    of_one = int((runs * (runs - 1) // 2).sum())
    of_two = int(runs.sum() * (runs.sum() - 1) // 2) - of_one
    if not varies.any():
        return 0.0, 0.0
    return of_one * _chance(facts, varies, along=1), of_two * _chance(facts, varies, along=0)


def _chance(facts: Facts, varies: Flags, *, along: int) -> float:
    """Chance that two neighbours agree throughout; 0 where no neighbours differ."""
    held = np.moveaxis(facts.held, along, 0)
    agree = np.ones((len(held) - 1, held.shape[1], int(varies.sum())), dtype=np.bool_)
    for table in (facts.table.by_channel.levels, facts.table.by_channel.received):
        shown = np.moveaxis(_filled(table)[..., varies], along, 0)
        agree &= shown[1:] == shown[:-1]
    counts = agree.sum(axis=2)[held[1:] & held[:-1]]
    return full_agreement(counts, int(varies.sum())) or 0.0


def _filled(table: Floats) -> Floats:
    """With a value of its own where a cell holds none, so that such cells are alike."""
    return np.where(np.isfinite(table), table, -np.inf)


def _named(facts: Facts, run: Run) -> dict[str, object]:
    return {"element": facts.ids[run[0]], "round": facts.rounds[run[1]]}
