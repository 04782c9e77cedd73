"""Whatever is wrong with a file, all of it is told at once: with each listed place mended it passes.

Faults of several kinds are put into a sound table; it is written as CSV, wide or long, as NDJSON or as a
workbook; then the listed places, and nothing else, are mended, each by what stood there before.
"""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.errors import BadInput
from tests.intake.made_batches import BARS, CSV, batch, cells
from tests.intake.made_workbooks import XLSX, workbook

NDJSON = "application/x-ndjson"
LONG = ["element", "round", "channel", "value", "rf_channel", "received", "at", "run", "mounting"]
SPELT = ["Antenna", "Round no.", "Ch", "Level (bars)", "RF", "Received", "Time", "Run no.", "Mount"]
AT = "2026-05-12T10:00:00Z"
BAD = {
    "element": ["", "a\u202eb", "x" * 201],
    "round": ["0", "1.5", "one", "99999"],
    "channel": ["", "two\nlines"],
    "value": [
        "11",
        "-1",
        "7/10",
        "?",
        "2026-10-07",
        "1.024,5",
        "nan",
        "7 dBuV",
        "#N/A",
        "1e999",
        "n/a",
        "7:10",
    ],
    "rf_channel": ["z\x0bz"],
    "received": ["perhaps", "no"],
    "at": ["noon", "2026-05-12T10:00:00", "2026-13-01T00:00:00Z"],
    "run": ["\u200b1"],
    "mounting": ["a\u2028b"],
}
BAD_TRIAL = {"margin": -1, "confidence": 95, "reference": "q", "site": 7, "looks": "often", "note": 1}


def sound_rows():
    return [
        [element, str(number), f"c{channel}", str(channel), f"2{channel}", "yes", AT, "1", f"m{number}"]
        for number in (1, 2, 3)
        for element in "ab"
        for channel in range(1, 7)
    ]


@st.composite
def faults(draw):
    """Faults of cells, (row, column): what stands there; and of the trial."""
    cells = st.tuples(st.integers(0, 35), st.sampled_from(sorted(BAD)))
    places = draw(st.lists(cells, max_size=12, unique=True))
    wrong = {place: draw(st.sampled_from(BAD[place[1]])) for place in places}
    trial = draw(st.lists(st.sampled_from(sorted(BAD_TRIAL)), max_size=3, unique=True))
    return wrong, trial


def trial_of(faulty):
    return BARS | {name: BAD_TRIAL[name] for name in faulty}


def written(rows, form, headings):
    if form == "ndjson":
        return "\n".join(map(json.dumps, (as_json(row) for row in rows))).encode(), NDJSON
    if form == "xlsx":
        return workbook([headings, *rows]), XLSX
    separator = {"comma": ",", "semicolon": ";", "tab": "\t", "bar": "|"}[form]
    lines = [separator.join(quoted(cell, separator) for cell in row) for row in (headings, *rows)]
    return "\r\n".join(lines).encode(), CSV


def quoted(cell, separator):
    return '"' + cell.replace('"', '""') + '"' if set(cell) & {separator, "\n", "\r", '"'} else cell


def as_json(row):
    entry = dict(zip(LONG, row, strict=True))
    for name, read in (("value", float), ("round", int)):
        try:
            entry[name] = read(entry[name]) if "e" not in entry[name] else entry[name]
        except ValueError:
            continue
    if entry["value"] != entry["value"]:
        entry["value"] = "nan"
    entry["received"] = {"yes": True, "no": False}.get(entry["received"], entry["received"])
    return entry


def lines_of(rows, form):
    """The line in which each row begins."""
    if form in ("ndjson", "xlsx"):
        return [place + (1 if form == "ndjson" else 2) for place in range(len(rows))]
    heights = [1 + sum(cell.count("\n") for cell in row) for row in rows]
    return [2 + sum(heights[:place]) for place in range(len(rows))]


def mend(rows, told, trial, *, lines, headings):
    """Put right what is listed; a listed place that nobody spoilt is no fault of the file."""
    good = sound_rows()
    for fault in told:
        if fault.pointer and fault.pointer.startswith("#/trial/"):
            trial.remove(fault.pointer.split("/")[2])
            continue
        row, name = lines.index(fault.row), LONG[headings.index(fault.column)]
        place = LONG.index(name)
        assert rows[row][place] != good[row][place] or name == "received", (row, name, fault.detail)
        rows[row][place] = good[row][place]


@settings(max_examples=150, deadline=None)
@given(faults(), st.sampled_from(["comma", "semicolon", "tab", "bar", "ndjson", "xlsx"]), st.booleans())
def test_a_file_mended_where_it_was_listed_passes(faulty, form, spelt):
    wrong, trial = faulty
    headings = SPELT if spelt and form != "ndjson" else LONG
    if form == "xlsx":  # signs that XML cannot hold
        wrong = {place: text for place, text in wrong.items() if "\x0b" not in text}
    if form == "ndjson":  # what JSON cannot say in these columns
        wrong = {place: text for place, text in wrong.items() if text != "7 dBuV"}
    rows = sound_rows()
    for (row, name), text in wrong.items():
        rows[row][LONG.index(name)] = text
    if any(name == "value" and rows[row][5] == "no" for row, name in wrong):
        return  # whether a fault or the contradiction is told is looked at elsewhere
    trial = list(trial)
    body, media_type = written(rows, form, headings)
    if not wrong and not trial:
        assert len(batch(body, media_type, trial=BARS)[1].frame) == 36
        return
    with pytest.raises(BadInput) as refusal:
        batch(body, media_type, trial=trial_of(trial))
    assert refusal.value.count == len(refusal.value.faults) == len(wrong) + len(trial)
    mend(rows, refusal.value.faults, trial, lines=lines_of(rows, form), headings=headings)
    assert trial == []
    body, media_type = written(rows, form, headings)
    _, readings = batch(body, media_type, trial=BARS)
    assert cells(readings) == cells(batch(written(sound_rows(), "comma", LONG)[0])[1])


WIDE_BAD = ["11", "7/10", "?", "-0,5", "12.05.2026", "#REF!", "7 dB", "7..5"]


@settings(max_examples=100, deadline=None)
@given(
    st.dictionaries(st.tuples(st.integers(0, 4), st.integers(1, 6)), st.sampled_from(WIDE_BAD), max_size=9),
    st.lists(st.integers(1, 6), max_size=2, unique=True),
    st.sampled_from(["semicolon", "tab", "bar", "xlsx"]),
    st.sampled_from(["", "Total", "Mean"]),
)
def test_a_wide_file_mended_where_it_was_listed_passes(wrong, headings_wrong, form, last):
    good = ["channel", *(f"{element}@{number}" for number in (1, 2, 3) for element in "ab")]
    rows = [[f"c{row}", *(str(1 + (row + run) % 9) for run in range(6))] for row in range(5)]
    sums = [sum(int(row[run]) for row in rows) for run in range(1, 7)]
    heading = list(good)
    for place in headings_wrong:
        heading[place] = heading[place].replace("@", " round ")
    spoilt = [list(row) for row in rows]
    for (row, run), text in wrong.items():
        spoilt[row][run] = text
    if last:  # a row of sums that does not hold
        spoilt.append([last, *(str(number + 100) for number in sums)])
    count = len(wrong) + len(headings_wrong) + bool(last)
    if not count:
        return
    with pytest.raises(BadInput) as refusal:
        batch(*written(spoilt, form, heading))
    assert len(refusal.value.faults) == count
    for fault in refusal.value.faults:
        if fault.row == 1:
            heading[heading.index(fault.column)] = good[heading.index(fault.column)]
        elif fault.column == "channel":
            assert fault.row == 7
            spoilt.pop()
        else:
            place = good.index(fault.column) if fault.column in good else refused_heading(good, fault.column)
            assert spoilt[fault.row - 2][place] != rows[fault.row - 2][place]
            spoilt[fault.row - 2][place] = rows[fault.row - 2][place]
    assert cells(batch(*written(spoilt, form, heading))[1]) == cells(batch(*written(rows, form, good))[1])


def refused_heading(good, told):
    return good.index(told.replace(" round ", "@"))
