"""Holm's steps: several questions share one error, and the plainest is answered first."""

from collections.abc import Callable, Mapping


def holding(
    p_values: Mapping[int, float], holds_at: Callable[[int, float], bool], *, alpha: float, open_steps: int
) -> set[int]:
    """Which of several questions are answered with yes, the error over all of them at most alpha.

    They are taken by rising p (by place where two tie), the i-th of the `open_steps` that have no yes yet at
    alpha / (open_steps - i + 1); after the first that does not hold at its step none does.

    p_values: by place, of the questions that are asked now, at most `open_steps`. holds_at: whether the one
    at a place holds at an alpha. Source: Holm (1979), A simple sequentially rejective multiple test
    procedure, Scandinavian Journal of Statistics 6, 65-70.
    """
    held: set[int] = set()
    for place in sorted(p_values, key=lambda place: (p_values[place], place)):
        if not holds_at(place, alpha / (open_steps - len(held))):
            break
        held.add(place)
    return held
