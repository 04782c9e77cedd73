"""The README's table of promises: what the benchmarks found, in plain words, between two comments."""

from pathlib import Path

from tests.benchmarks.figures import table_row

README = Path(__file__).parents[2] / "README.md"
BEGIN, END = "<!-- promises, written by tests.benchmarks.all -->", "<!-- end of promises -->"
PROMISES = {
    "verdict in process": "a verdict, in times what scipy takes for its permutation test and bootstrap alone",
    "the same, of a shape of trial not seen before": "the first verdict on a new size of trial, in the same",
    "verdict over HTTP": "the slowest 1 in 20 verdicts over HTTP, in times the same without HTTP right after",
    "960,000 rows of CSV sent": "960 000 readings of CSV checked and kept, in times pandas reading them",
    "peak memory of server and worker": "memory of the server meanwhile",
    "the same readings as JSON": "the same readings as JSON, in times only parsing them",
    "PDF of": "a PDF report, in times the same without its pictures",
    "`aerial-assay --help`": "`aerial-assay --help`, in times starting Python with numpy and scipy",
    "`aerial-assay verdict`": "`aerial-assay verdict` of a small file, in the same",
    "verdict, twice the rounds": "twice the rounds or channels, in times half of them",
    "verdict, twice the channels": "twice the rounds or channels, in times half of them",
    "verdict, twice the elements": "twice the elements (four times the pairs), in times half of them",
    "verdicts a second, 2 workers": "verdicts a second of two workers, in times those of one",
}
"""How the work of a row begins, and what is said of it; of several rows the worst figure counts."""


def promises(results: str) -> str:
    """The table for the README, out of the table of results.

    Raises ValueError where a promise has no row, or rows of several bars, of which none is the promise's.
    """
    rows = [[cell.strip() for cell in line.split("|")[1:-1]] for line in results.splitlines() if "|" in line]
    told: dict[str, list[list[str]]] = {promise: [] for promise in PROMISES.values()}
    for beginning, promise in PROMISES.items():
        found = [row for row in rows if row[0].startswith(beginning)]
        if not found:
            raise ValueError(f"No row of the results begins with {beginning!r}.")
        told[promise] += found
        if len({row[3] for row in told[promise]}) > 1:
            raise ValueError(f"Rows that begin with {beginning!r} have several bars.")
    lines = [_line(promise, found) for promise, found in told.items()]
    return "\n".join([table_row("promise", "bar", "measured"), table_row("---", "---", "---"), *lines])


def _line(promise: str, rows: list[list[str]]) -> str:
    _, _, measured, bar, _ = (min if rows[0][3].startswith("at least") else max)(rows, key=_figure)
    return table_row(promise, bar, measured)


def _figure(row: list[str]) -> float:
    return float(row[2].split()[0])


def write_promises(results: Path) -> None:
    """Put the table between the two comments of the README. Raises ValueError where they are missing."""
    before, _, rest = README.read_text(encoding="utf-8").partition(BEGIN)
    _, found, after = rest.partition(END)
    if not found:
        raise ValueError(f"The README lacks the comments {BEGIN} and {END}.")
    text = promises(results.read_text(encoding="utf-8"))
    README.write_text(f"{before}{BEGIN}\n{text}\n{END}{after}", encoding="utf-8")
