"""However the same readings are written down, the same table comes out."""

import csv
import io
import json
from contextlib import suppress

from hypothesis import given, settings
from hypothesis import strategies as st

from service.errors import Refused
from service.intake.batch import read_batch
from service.intake.marks import Marks
from service.intake.spellings import choice, understood
from service.intake.summaries import is_summary
from service.settings import Limits
from service.trial.rounds import assign_rounds
from service.trial.scores import score_table
from tests.intake.made_batches import BARS, CSV, JSON, TSV, batch, cells

FEW = settings(max_examples=60, deadline=None)
NAMES = st.text(
    st.characters(blacklist_categories=("Cc", "Cf", "Cs", "Zs", "Zl", "Zp"), blacklist_characters="@'"),
    min_size=1,
    max_size=6,
).filter(lambda name: name == name.strip() and not is_summary(name) and understood(name) == (name, None))
VALUES = st.one_of(st.none(), st.integers(0, 100).map(lambda tenths: tenths / 10))
FORMS = ("element", "round", "channel", "value", "rf_channel", "received", "at", "run", "mounting")


@st.composite
def tables(draw):
    """A whole table of elements, rounds and channels: (element, round, channel, value)."""
    elements = draw(
        st.lists(NAMES.filter(lambda name: choice(name) is None), min_size=1, max_size=3, unique=True)
    )
    channels = draw(st.lists(NAMES, min_size=1, max_size=4, unique=True))
    runs = [(element, number) for element in elements for number in range(1, draw(st.integers(1, 3)) + 1)]
    return [(*run, channel, draw(VALUES)) for run in runs for channel in channels]


def text(value, mark="."):
    return "" if value is None else str(value).replace(".", mark)


def long_table(rows, separator=",", mark="."):
    out = io.StringIO()
    writer = csv.writer(out, delimiter=separator, lineterminator="\n")
    writer.writerow(FORMS[:4])
    writer.writerows(
        [element, number, channel, text(value, mark)] for element, number, channel, value in rows
    )
    return out.getvalue()


def wide_table(rows, separator=",", mark="."):
    runs = list(dict.fromkeys((row[0], row[1]) for row in rows))
    values = {row[:3]: "none" if row[3] is None else text(row[3], mark) for row in rows}
    out = io.StringIO()
    writer = csv.writer(out, delimiter=separator, lineterminator="\n")
    writer.writerow(["channel", *(f"{element}@{number}" for element, number in runs)])
    for channel in dict.fromkeys(row[2] for row in rows):
        writer.writerow([channel, *(values[(*run, channel)] for run in runs)])
    return out.getvalue()


def as_json(rows):
    entries = [dict(zip(FORMS, row, strict=False)) for row in rows]
    return json.dumps({"trial": BARS, "readings": entries})


def expected(rows):
    return sorted([(e, n, c, None if v is None else float(v)) for e, n, c, v in rows], key=repr)


@FEW
@given(tables())
def test_long_wide_and_json_give_the_same_table(rows):
    for body, media_type, trial in (
        (long_table(rows), CSV, BARS),
        (wide_table(rows), CSV, BARS),
        (as_json(rows), JSON, None),
    ):
        assert cells(batch(body, media_type, trial=trial)[1]) == expected(rows)


@FEW
@given(tables(), st.sampled_from([long_table, wide_table]))
def test_separator_decimal_mark_and_line_ending_do_not_matter(rows, form):
    for separator, mark, media_type in ((";", ".", CSV), (";", ",", CSV), ("\t", ",", CSV), ("\t", ".", TSV)):
        body = form(rows, separator, mark)
        for ending in ("\n", "\r\n"):
            written = b"\xef\xbb\xbf" + body.replace("\n", ending).encode()
            assert cells(batch(written, media_type)[1]) == expected(rows)


@FEW
@given(tables(), st.randoms(use_true_random=False))
def test_the_order_of_rows_does_not_matter(rows, random):
    shuffled = random.sample(rows, len(rows))
    tables_of_both = []
    for order in (rows, shuffled):
        trial, readings = batch(long_table(order))
        tables_of_both.append(score_table(trial, assign_rounds(readings).frame))
    one, two = tables_of_both
    assert (one.elements, one.rf_channels, one.left_out) == (two.elements, two.rf_channels, two.left_out)
    assert one.scores.tobytes() == two.scores.tobytes()
    assert one.by_channel.totals().tobytes() == two.by_channel.totals().tobytes()


@FEW
@given(tables(), st.randoms(use_true_random=False))
def test_a_trial_written_in_any_way_has_the_same_scores_to_the_last_bit(rows, random):
    mixed = random.sample(rows, len(rows))
    ways = (
        (long_table(rows).encode(), CSV, BARS),
        (wide_table(mixed, ";", ",").replace("\n", "\r\n").encode("utf-8-sig"), CSV, BARS),
        (long_table(mixed, "\t", ",").replace("\n", "\r").encode(), TSV, BARS),
        (as_json(mixed).encode(), JSON, None),
    )
    found = []
    for body, media_type, trial in ways:
        whole, readings = batch(body, media_type, trial=trial)
        assert whole.document() == batch(long_table(rows))[0].document()
        table = score_table(whole, assign_rounds(readings).frame)
        found.append([table.scores.tobytes(), table.cells.tobytes(), table.by_channel.totals().tobytes()])
    assert found == [found[0]] * len(ways)


@settings(max_examples=200, deadline=None)
@given(
    st.one_of(
        st.binary(max_size=60), st.text('element,round;channel\t"value@12.\n\r', max_size=80).map(str.encode)
    )
)
def test_any_bytes_are_read_or_refused(body):
    for media_type in (CSV, TSV, JSON):
        for prefix in (b"", b"element,channel,value\n", b"channel;a;b\n"):
            with suppress(Refused):
                trial, readings = read_batch(
                    prefix + body, media_type, trial=BARS, marks=Marks(), limits=Limits()
                )
                assert set(readings.frame["element"]) <= {element.id for element in trial.elements}
