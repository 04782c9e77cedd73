"""The README promises what the committed run of the benchmarks found, and every bar has its figure there."""

import pytest

from tests.benchmarks import promises
from tests.benchmarks.figures import HEADING, Figure, table_row
from tests.benchmarks.promises import BEGIN, END, README

RESULTS = README.parent / "tests" / "benchmarks" / "results.md"


def rows() -> list[list[str]]:
    lines = [line for line in RESULTS.read_text(encoding="utf-8").splitlines() if line.startswith("| ")]
    assert lines[0] == table_row(*HEADING)
    return [line.removeprefix("| ").removesuffix(" |").split(" | ") for line in lines[2:]]


def test_the_readme_tells_the_committed_figures():
    told = README.read_text(encoding="utf-8").partition(BEGIN)[2].partition(END)[0].strip()
    assert told == promises.promises(RESULTS.read_text(encoding="utf-8"))


def test_what_each_row_says_of_its_bar_is_so():
    for _, _, measured, bar, met in rows():
        figure, side = float(measured.split()[0]), bar.split()[:2]
        if side == ["none"]:
            assert met == "no bar"
            continue
        limit = float(bar.split()[2])
        kept = figure >= limit if side == ["at", "least"] else figure <= limit
        assert met == ("yes" if kept else "NO")


@pytest.mark.parametrize(
    ("measured", "least", "met"), [(1.504, False, "yes"), (1.506, False, "NO"), (1.4, True, "NO")]
)
def test_a_figure_keeps_to_its_bar_as_it_is_written(measured, least, met):
    figure = Figure("work", "peer", measured, 1.5, least=least)
    assert (figure.met, figure.row().endswith(f"| {met} |")) == (met, True)


def test_of_several_rows_the_worst_is_promised_and_a_missing_one_is_refused():
    figures = [Figure(work, "peer", 0.5, 1.0) for work in list(promises.PROMISES)[:-1]]
    workers = [
        Figure("verdicts a second, 2 workers", "1", value, 1.7, least=True) for value in (1.8, 1.6, 1.9)
    ]
    larger = Figure("verdict, twice the rounds", "half, of a large trial", 2.0, 1.0)
    some = "\n".join(figure.row() for figure in [*figures, larger])
    with pytest.raises(ValueError, match="No row of the results begins with 'verdicts a second"):
        promises.promises(some)
    lines = promises.promises("\n".join([some, *(figure.row() for figure in workers)])).splitlines()
    assert [line for line in lines if "at least" in line] == [
        "| verdicts a second of two workers, in times those of one | at least 1.7 | 1.60 |"
    ]
    assert [line for line in lines if "2.00" in line] == [
        "| twice the rounds or channels, in times half of them | at most 1 | 2.00 |"
    ]


def test_rows_of_several_bars_are_none_of_one_promise():
    rows = [Figure(work, "peer", 0.5, 1.0).row() for work in promises.PROMISES]
    rows.append(Figure("PDF of the largest trial", "-", 8.9, 25.0, "s").row())
    with pytest.raises(ValueError, match="Rows that begin with 'PDF of' have several bars"):
        promises.promises("\n".join(rows))
