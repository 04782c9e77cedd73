"""A design's history in every form: what it must say, strangers' names, the picture, its axis."""

import io
import re
from datetime import datetime, timedelta
from xml.etree import ElementTree

import pikepdf
import pytest

from reports import charts
from reports.charts import palette
from reports.dates import day, scanned
from reports.histories import HISTORY_FORMS, render_history
from reports.histories.figure import history_picture
from reports.histories.ticks import MOST_TICKS, ticks
from reports.histories.view import history_view, rule
from reports.locales import speaking
from reports.view.model import Image
from tests.analysis.made_histories import DAYS, creeping, dated_trial
from tests.reports.pdf_text import pages_of
from tests.reports.sample_histories import document

HOSTILE = "<b>a|b*[x](http://evil)</b> @you"
TEXT_FORMS = [form for form in HISTORY_FORMS if form != "pdf"]


@pytest.fixture(scope="module")
def creeps():
    return document(creeping(0.8))


@pytest.fixture(scope="module")
def pdf(creeps):
    return render_history(creeps, "pdf")


def words(content):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", content.decode()))


@pytest.mark.parametrize("form", TEXT_FORMS)
def test_every_form_says_outcome_trend_then_and_now_and_what_is_not_seen(creeps, form):
    text = words(render_history(creeps, form))
    for said in (
        "creeps", creeps["statement"], creeps["first_to_last"]["statement"], rule(creeps),
        *creeps["not_seen"], creeps["history_id"], *map(day, DAYS), "a year (",
    ):  # fmt: skip
        assert said in text, said


def test_a_change_that_may_go_either_way_names_both_ways_and_another_names_one(creeps):
    one_way = r"the true change lies between [\d.]+ and [\d.]+ dB lower \(95 % sure\)"
    either = r"the true change lies between [\d.]+ dB lower and [\d.]+ dB higher \(95 % sure\)"
    open_ = document(creeping(0.1, sd=1.5))
    assert open_["outcome"] == "needs more trials"
    assert re.search(one_way, creeps["statement"])
    assert re.search(either, open_["statement"])


@pytest.mark.parametrize("form", ["html", "markdown"])
def test_page_and_markdown_carry_what_a_report_must_say(creeps, form):
    text = words(render_history(creeps, form))
    hashes = [trial["provenance"]["readings_sha256"] for trial in creeps["trials"]]
    for said in (
        *hashes, *(scanned(trial["provenance"]) for trial in creeps["trials"]), "12 done",
        "not gain or efficiency", "least squares over trial means", "95 %, from the trials",
        "1 dB, from the trials", "never alone",
        "change over the span of the dates", "4 used, 0 left out", f"End of report {creeps['history_id']}",
    ):  # fmt: skip
        assert said in text, said


def test_the_pdf_is_tagged_dated_by_its_last_scan_and_says_the_same_each_time(creeps, pdf):
    assert pdf == render_history(creeps, "pdf")
    text = " ".join(pages_of(pdf))
    for said in ("creeps", creeps["not_seen"][2], "the margin around where the line begins"):
        assert said in text
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        assert str(opened.Root.Lang) == "en"
        assert bool(opened.Root.MarkInfo.Marked)
        assert "20260411" in str(opened.docinfo["/CreationDate"])


def test_days_are_written_as_the_locale_has_them(creeps):
    with speaking("en-US"):
        report = history_view(creeps, lambda _picture: Image("", ()))
    assert (report.scanned, report.issued) == ("April 6, 2024 to April 11, 2026", "April 11, 2026")
    assert report.issued_at[0].startswith("2026-04-11T")


def test_strangers_names_mean_nothing_in_any_form():
    elements = [{"id": "whip", "label": HOSTILE}, {"id": "brass"}]
    trials = [dated_trial({"whip": 20.0, "brass": 20.0}, day, elements=elements) for day in DAYS]
    whole = document(trials)
    page = render_history(whole, "html").decode()
    assert "<b>" not in page
    markdown = render_history(whole, "markdown").decode()
    assert not re.search(r"(?<!\\)[\[\]*`|]", markdown.splitlines()[0])
    assert not re.search(r"\w://", markdown)
    assert "<b>" not in markdown
    assert "@you" not in markdown


def test_what_trials_say_alike_is_said_once_with_their_dates(creeps):
    alike = {"severity": "warning", "code": "order-fixed", "evidence": {}, "message": "The same."}
    cautions = [alike | {"trial": 0}, alike | {"trial": 3}, alike | {"trial": 4, "message": "Another."}]
    days = [day(at) for at in DAYS]
    notes = history_view(creeps | {"cautions": cautions}, lambda _picture: Image("", ())).sections[1].notes
    assert [(note.title, note.message) for note in notes] == [
        (f"The order of the runs was not shuffled (trials of {days[0]} and {days[3]})", "The same."),
        (f"The order of the runs was not shuffled (trial of {days[4]})", "Another."),
    ]


def test_another_form_or_paper_is_refused(creeps):
    with pytest.raises(ValueError, match="not known"):
        render_history(creeps, "junit")
    with pytest.raises(ValueError, match="not known"):
        render_history(creeps, "html", paper="a5")


@pytest.mark.parametrize("width", [180.0, 92.0])
def test_the_picture_says_in_words_what_its_lines_are(creeps, width):
    drawn = charts.svg(history_picture(creeps), width=width, text_as="text")
    assert drawn == charts.svg(history_picture(creeps), width=width, text_as="text")
    text = " ".join(ElementTree.fromstring(drawn).itertext())  # noqa: S314 (our own)
    picture = history_picture(creeps)
    keys = picture.points_say, picture.line_says, picture.ends_say, picture.band_says
    for said in (*keys, picture.axis, "date"):
        assert said in text, said
    assert picture.ticks[0][1] in text


def test_line_interval_and_margin_differ_by_more_than_colour(creeps):
    drawn = charts.svg(history_picture(creeps), width=180.0, text_as="outlines").decode()
    assert drawn.count("stroke-dasharray") == 3, "both ends of the line's interval, and what tells of them"
    assert f"stroke: {palette.HATCH}" in drawn, "lines across the margin"
    assert "<pattern" not in drawn, "a renderer of PDF takes twice as long over patterns"


def test_the_axis_holds_points_line_and_margin_and_the_caption_says_what_is_cut(creeps):
    picture = history_picture(creeps)
    begin = creeps["trend"]["line"][0]["value"]
    assert picture.band == (begin - creeps["margin"], begin + creeps["margin"])
    values = [value for point in picture.points for value in point[1:]]
    values += [*picture.band, *(at[1] for at in picture.line)]
    assert picture.ends[0] < min(values)
    assert max(values) < picture.ends[1]
    whole = history_view(creeps, lambda _picture: Image("", ())).figures[0]
    assert "goes beyond" not in whole.caption
    bent = zip((20.0, 22.0, 20.0), DAYS[:3], strict=True)
    wide = document([dated_trial({"whip": level, "brass": 20.0}, day) for level, day in bent])
    assert history_picture(wide).ends[1] < max(at[3] for at in history_picture(wide).line)
    cut = history_view(wide, lambda _picture: Image("", ())).figures[0]
    assert cut.caption.endswith("The interval of the line goes beyond the picture.")


def test_the_alternative_text_tells_every_trial_and_the_change(creeps):
    alt = history_view(creeps, lambda _picture: Image("", ())).figures[0].alt
    assert all(day(at) in alt for at in DAYS)
    assert "The line through them changes by" in alt


@pytest.mark.parametrize(
    ("span", "count", "first", "last"),
    [
        (0.2, 2, "2025-01-30 06:00", "2025-01-30 10:48"),
        (9, 10, "2025-01-30", "2025-02-08"),
        (33, 5, "2025-01-30", "2025-02-27"),
        (100, 8, "2025-01-30", "2025-05-08"),
        (200, 7, "2025-02", "2025-08"),
        (735, 8, "2025-04", "2027-01"),
        (9000, 6, "2025-01", "2050-01"),
    ],
)
def test_the_axis_is_marked_at_round_dates(span, count, first, last):
    marks = ticks("2025-01-30T06:00:00Z", span)
    labels = [label for _, label in marks]
    assert (labels[0], labels[-1]) == (first, last), labels
    assert len(marks) <= MOST_TICKS + 1
    begin = datetime.fromisoformat("2025-01-30T06:00:00+00:00")
    assert all((begin + timedelta(days=at)).isoformat().startswith(label[:10]) for at, label in marks)
    assert len(marks) == count
