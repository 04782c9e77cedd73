"""A randomised order of the runs, balanced over the places within a round.

In a Latin square of rounds every element stands once in every place, so that whatever changes within a round
(warmth, tiredness, traffic) falls on all alike. In a Williams square, for an odd number of elements in two of
them together, every element also follows every other equally often. Source: Williams (1949), Experimental
designs balanced for the estimation of residual effects of treatments, Australian Journal of Scientific
Research A 2, 149-168 (from memory; the properties are tested).
"""

import numpy as np
from numpy.typing import NDArray

from service.statistics.random_streams import Purpose, Stream, word_orders

TRIES = 256
"""Shuffles of a square's rows from which one is chosen; the first of those that are equally good."""

Order = NDArray[np.int64]


def run_order(elements: int, rounds: int, seed: int) -> Order:
    """Which element is run at which place: shape (rounds, elements), elements counted from 0.

    Squares follow one another, each with its rows shuffled; elements are dealt to the treatments anew for
    each whole set of squares. Where a square has more rows than there are rounds left, the rows are chosen so
    that the mean place of the elements differs least: restricted randomisation. Every element stands in every
    place equally often, within one, after any number of rounds. Among such orders those are taken in which no
    element comes last in one round and first in the next, where there are such.

    elements, rounds >= 1. The same arguments give the same order, everywhere.
    """
    squares = williams_squares(elements)
    found: list[Order] = []
    left, number = rounds, 0
    while left > 0:
        number += 1
        stream = Stream(seed, Purpose.RUN_ORDER, elements=elements, round_number=number)
        dealt = word_orders(stream.words(1, elements))[0]
        for square in squares[word_orders(stream.words(1, len(squares)))[0]]:
            if left > 0:
                last = int(found[-1][-1, -1]) if found else None
                found.append(_rows(dealt[square], min(left, elements), stream, last))
                left -= len(found[-1])
    return np.concatenate(found)


def williams_squares(elements: int) -> Order:
    """The squares that together let every element follow every other equally often: (squares, K, K).

    One for an even number K, two for an odd one, the second of them the first read backwards. Each row is a
    round, each column a place.
    """
    zigzag = np.zeros(elements, dtype=np.int64)
    zigzag[1::2] = np.arange(1, elements // 2 + 1)
    zigzag[2::2] = elements - np.arange(1, (elements - 1) // 2 + 1)
    square = (zigzag + np.arange(elements)[:, None]) % elements
    if elements % 2 == 0 or elements == 1:
        return square[None]
    return np.stack([square, square[:, ::-1]])


def _rows(square: Order, rounds: int, stream: Stream, last: int | None) -> Order:
    """So many rows of the square in a shuffled order; `last` is the element that was run before them."""
    tries = word_orders(stream.words(TRIES, len(square)))[:, :rounds]
    costs = [_cost(square[rows], last) for rows in tries]
    best: Order = square[tries[costs.index(min(costs))]]
    return best


def _cost(order: Order, last: int | None) -> tuple[int, int]:
    """How far the elements' places are from having equal means, and how often one comes twice running."""
    rounds, elements = order.shape
    sums = order.argsort(axis=1).sum(axis=0)
    unequal = int(((2 * sums - rounds * (elements - 1)) ** 2).sum())
    joined = int((order[1:, 0] == order[:-1, -1]).sum()) + (order[0, 0] == last)
    return unequal, int(joined)
