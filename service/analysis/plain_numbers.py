"""Numbers as the document holds them."""

import math


def number(value: float | None) -> float | None:
    """A plain finite number for the document, None for anything else."""
    return None if value is None or not math.isfinite(value) else float(value)
