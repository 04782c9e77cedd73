"""`odd-channel-round`: in one round one RF channel moved with every element, as when its transmitter does."""

import numpy as np

from service.analysis.cautions.caution import LEVEL, Caution
from service.analysis.facts import Facts
from service.statistics.least_squares import fit
from service.statistics.odd_cell import odd_cell
from service.statistics.results import Floats

FEWEST_RF_CHANNELS = 3
SHARE_OF_MEAN = 0.25


def odd_channel_round(facts: Facts) -> Caution | None:
    """Raised where the mean over elements of one RF channel in one round is out of line with all the others.

    Out of line both with the other RF channels and with the same one in other rounds, and the same way with
    every element by a quarter of the mean move or more: what one element does alone is not the transmitter.
    Over the rounds that hold every element judged, from three RF channels on.
    """
    cells = facts.table.cells[facts.judgement.judged][:, facts.complete]
    if min(cells.shape) < 2 or cells.shape[2] < FEWEST_RF_CHANNELS:
        return None
    step = facts.table.resolution or 0.0
    least = step**2 / (12 * len(cells))
    found = odd_cell(cells.mean(axis=0).T, least_variance=least, by_row=True)
    if found is None or found.p_value > LEVEL:
        return None
    channel, number = found.cells[0]
    moves = _moves(cells, channel, number)
    if not (moves / found.deviation >= SHARE_OF_MEAN).all():
        return None
    judged = np.flatnonzero(facts.judgement.judged)
    evidence = {
        "rf_channel": facts.table.rf_channels[channel],
        "round": facts.rounds[np.flatnonzero(facts.complete)[number]],
        "move": found.deviation,
        "moves": [
            {"element": facts.ids[k], "move": float(own)} for k, own in zip(judged, moves, strict=True)
        ],
        "sd": found.sd,
        "p_value": found.p_value,
    }
    return Caution("odd-channel-round", "note", evidence)


def _moves(cells: Floats, channel: int, number: int) -> Floats:
    """By how much each element's own cell lies above what the element's other cells lead to expect, (K,)."""
    _, rounds, channels = cells.shape
    free = (1 - 1 / rounds) * (1 - 1 / channels)
    moves = np.array([fit(table.T).residuals[channel, number] for table in cells])
    return np.asarray(moves / free)
