"""What the studies share: how they are asked, their parts in several processes, their tables as Markdown."""

import argparse
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from typing import TypeVar

Course = TypeVar("Course")
Found = TypeVar("Found")


def parser(description: str, *, trials: int) -> argparse.ArgumentParser:
    """Takes --trials, so many unless told otherwise, and --workers."""
    made = argparse.ArgumentParser(description=description)
    made.add_argument("--trials", type=int, default=trials)
    made.add_argument("--workers", type=int, default=2)
    return made


def done(
    work: Callable[[Course, int], Found], courses: Sequence[Course], *, trials: int, workers: int
) -> Iterator[tuple[Course, Found]]:
    """Each course with what the work found of it in so many trials, in order; the progress is told."""
    with ProcessPoolExecutor(workers) as pool:
        running = [pool.submit(work, course, trials) for course in courses]
        for course, part in zip(courses, running, strict=True):
            yield course, part.result()
            print(course, file=sys.stderr, flush=True)


def line(cells: Iterable[object]) -> str:
    """A row of a table."""
    return f"| {' | '.join(map(str, cells))} |"


def page(head: str, columns: Sequence[str], rows: Iterable[str]) -> str:
    """A Markdown document of one table."""
    return head + "\n".join([line(columns), "|---" * len(columns) + "|", *rows, ""])
