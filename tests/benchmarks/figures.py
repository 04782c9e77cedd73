"""What a benchmark found, as a row of the table; and the clock that all of them share."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter

HEADING = ("work", "against", "measured", "bar", "met")
NO_BAR = "none"


@dataclass(frozen=True)
class Figure:
    """What was measured: a ratio, or with a unit a size. The bar is the most allowed, or the least."""

    work: str
    against: str
    measured: float
    bar: float | None
    unit: str = ""
    least: bool = False

    @property
    def met(self) -> str:
        """Whether the figure, as it is written, keeps to its bar."""
        if self.bar is None:
            return "no bar"
        written = float(self._written)
        return "yes" if (written >= self.bar if self.least else written <= self.bar) else "NO"

    @property
    def _written(self) -> str:
        return f"{self.measured:.0f}" if self.measured >= 100 else f"{self.measured:.2f}"

    def row(self) -> str:
        """The row of the Markdown table."""
        side = "at least" if self.least else "at most"
        bar = NO_BAR if self.bar is None else f"{side} {self.bar:g} {self.unit}".rstrip()
        return table_row(self.work, self.against, f"{self._written} {self.unit}".rstrip(), bar, self.met)


def table_row(*cells: str) -> str:
    """Cells as a row of a Markdown table."""
    return f"| {' | '.join(cells)} |"


def show(figures: Iterable[Figure]) -> None:
    """Print each row as soon as it is there."""
    for figure in figures:
        print(figure.row(), flush=True)


def seconds(work: Callable[[], object]) -> float:
    """The time of one call by the clock."""
    start = perf_counter()
    work()
    return perf_counter() - start


def in_turn(*works: Callable[[], object], times: int) -> list[float]:
    """The least time of each work, all of them done in turn so often, after a first turn that is not counted.

    What slows the machine for a while so slows all of them. The least, since whatever else goes on can only
    add to a time (timeit.Timer.repeat in the library reference of Python).
    """
    for work in works:
        work()
    taken = [[seconds(work) for work in works] for _ in range(times)]
    return [min(of_one) for of_one in zip(*taken, strict=True)]


def peak_megabytes() -> float:
    """The largest resident memory this process has had (getrusage would count the parent's before exec)."""
    status = Path("/proc/self/status").read_text(encoding="ascii")
    (line,) = (line for line in status.splitlines() if line.startswith("VmHWM"))
    return int(line.split()[1]) / 1024
