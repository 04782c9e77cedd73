"""Run sheets and tables to fill in: what stands on them, how large the boxes are, that nothing runs."""

import csv
import io
import time
import zipfile

import openpyxl
import pikepdf
import pytest

from reports.plans import BLANK_BOXES, PLAN_FORMS, boxes, render_plan
from reports.plans.cells import quoted
from reports.plans.view import sheet_view
from reports.wording import plan as wording
from reports.wording import plan_cautions
from reports.wording.plan import complete_plan
from reports.wording.safety import SAFETY
from reports.wording.speech import speech_of
from service.intake.spreadsheet_text import quoted_text
from tests.reports.pdf_text import printed
from tests.reports.sample_plans import TRIAL, made

POINTS_A_MM = 72 / 25.4
HOSTILE = '<script>alert("x")</script>'


@pytest.fixture(scope="module")
def document():
    return made(site="roof of the harbour office, 57.12345, -2.34567")


@pytest.fixture(scope="module")
def pdf(document):
    return render_plan(document, "pdf")


def test_the_sheet_has_a_strip_for_each_run_in_order_and_a_box_for_each_channel(document):
    sheet = sheet_view(document)
    runs = [run for each in sheet.rounds for run in each.runs]
    assert [run.id for run in runs] == [run["element"] for run in document["order"]]
    assert [run.number for run in runs] == [str(number) for number in range(1, 19)]
    assert [box.name for box in runs[0].boxes] == [channel["id"] for channel in TRIAL["channels"]]
    assert runs[0].boxes[0].signal == "RF 27"
    assert boxes(document) == 18 * 4


@pytest.mark.parametrize("form", ["html", "pdf", "text"])
def test_every_form_says_plan_order_promise_and_all_cautions_about_people(document, pdf, form):
    content = pdf if form == "pdf" else render_plan(document, form)
    text = " ".join((printed(content, layout=True) if form == "pdf" else content.decode()).split())
    assert "3 rounds of 6 elements: 18 runs of 6 minutes" in text
    assert "is named in 80 of 100 trials" in text
    for caution in SAFETY:
        assert caution.split(":")[0] in text
    for word in ("Article 810", "IEC 60728-11", "eye protection", "Receive only", "seed 1"):
        assert word in text
    if form != "text":
        for word in ("Time", "Weather", "Joints checked", "Aim checked", "3 mm copper rod"):
            assert text.count(word) >= 18 or word == "3 mm copper rod"


def test_no_exact_position_is_printed(pdf):
    assert "57.12345" not in printed(pdf)
    assert "position withheld" in printed(pdf)


def squares(content):
    """Width and height in mm of every rectangle that the pages of the PDF draw."""
    with pikepdf.open(io.BytesIO(content)) as opened:
        return [square for page in opened.pages for square in squares_of(page)]


def squares_of(page):
    scale, found = 1.0, []
    for operands, operator in pikepdf.parse_content_stream(page):
        if str(operator) == "cm" and scale == 1.0:
            scale = abs(float(operands[0])) or 1.0
        if str(operator) == "re":
            width, height = (abs(float(value)) * scale for value in operands[2:4])
            found.append((width / POINTS_A_MM, height / POINTS_A_MM))
    return found


def test_boxes_are_large_enough_to_write_in(pdf):
    """At least 8 mm high, and wide enough for a number: borders are drawn as the outer of two rectangles."""
    large = [(width, height) for width, height in squares(pdf) if height >= 8 and 15 <= width <= 30]
    assert len(large) >= 18 * 4


def test_the_pdf_is_tagged_and_the_same_every_time(document, pdf):
    assert render_plan(document, "pdf") == pdf
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        assert opened.Root.MarkInfo.Marked
        assert str(opened.Root.Lang) == "en"
        assert "run sheet" in str(opened.docinfo.Title)


def test_letter_paper_is_made_too(document):
    with pikepdf.open(io.BytesIO(render_plan(document, "pdf", paper="letter"))) as opened:
        assert [float(value) for value in opened.pages[0].MediaBox[2:]] == pytest.approx([612, 792])


def test_a_trial_without_channels_gets_blank_boxes():
    blank = made(channels=[])
    sheet = sheet_view(blank)
    assert len(sheet.rounds[0].runs[0].boxes) == BLANK_BOXES
    assert any("names no channels" in note.message for note in sheet.notes)
    book = openpyxl.load_workbook(io.BytesIO(render_plan(blank, "xlsx")))
    assert book["readings"].max_row == 1
    assert "C2:T61" in str(book["readings"].data_validations.dataValidation[0].sqref)


def test_a_plan_that_is_done_has_a_sheet_without_strips(document):
    done = {**document, "rounds": 0, "order": [], "statement": None, "rounds_done": 6}
    done = complete_plan(done)
    assert "No round is left" in done["statement"]
    for form in PLAN_FORMS:
        assert render_plan(done, form)


def test_the_same_plan_is_the_same_workbook_whatever_the_time(document, monkeypatch):
    first = render_plan(document, "xlsx")
    monkeypatch.setattr("time.localtime", lambda *_: time.struct_time((2031, 1, 2, 3, 4, 6, 3, 2, 0)))
    monkeypatch.setattr("time.time", lambda: 1.9e9)
    assert render_plan(document, "xlsx") == first
    with zipfile.ZipFile(io.BytesIO(first)) as book:
        assert {member.date_time[0] for member in book.infolist()} == {1980}
        assert b"1980-01-01T00:00:00Z</dcterms:modified>" in book.read("docProps/core.xml")


def test_the_workbook_holds_channels_runs_and_allowed_values(document):
    book = openpyxl.load_workbook(io.BytesIO(render_plan(document, "xlsx")))
    assert book.sheetnames == ["readings", "allowed values", "runs"]
    sheet = book["readings"]
    heading = [cell.value for cell in sheet[1]]
    assert heading[:3] == ["channel", "rf_channel", f"{document['order'][0]['element']}@1"]
    assert [row[0].value for row in sheet.iter_rows(min_row=2)] == [c["id"] for c in TRIAL["channels"]]
    (validation,) = sheet.data_validations.dataValidation
    assert validation.formula1 == (
        'OR(AND(ISNUMBER(C2),C2>=0,C2<=10),LOWER(TRIM(C2))="none",LOWER(TRIM(C2))="not scanned")'
    )
    allowed = {row[0].value: row[1].value for row in book["allowed values"].iter_rows(min_row=2)}
    assert "bars" in allowed["0 to 10"]
    assert {"none", "not scanned", "a blank cell", "planned_rounds"} <= allowed.keys()
    assert [row[3].value for row in book["runs"].iter_rows(min_row=2)] == [
        run["element"] for run in document["order"]
    ]


def test_nothing_of_a_stranger_runs_in_any_form():
    named = made(
        title=HOSTILE,
        reference=None,
        elements=[{"id": "=cmd()", "label": HOSTILE}, {"id": "b", "label": "+1"}],
        channels=[{"id": "@x", "label": HOSTILE}],
    )
    page = render_plan(named, "html").decode()
    assert "<script" not in page
    assert "&lt;script&gt;" in page
    heading, row = csv.reader(io.StringIO(render_plan(named, "csv").decode("utf-8-sig")))
    assert all(not cell.startswith(("=", "+", "-", "@")) for cell in (*heading, *row))
    book = openpyxl.load_workbook(io.BytesIO(render_plan(named, "xlsx")))
    for sheet in book:
        assert all(cell.data_type != "f" for line in sheet.iter_rows() for cell in line)


@pytest.mark.parametrize("text", ["=1", "+1", "-1", "@a", "\ta", "'=1", "''-x", "plain", "'quoted'", ""])
def test_names_are_quoted_as_reading_takes_it_off(text):
    assert quoted(text) == quoted_text(text)


def test_an_unknown_form_is_refused(document):
    with pytest.raises(ValueError, match="csv, xlsx, html, pdf, text"):
        render_plan(document, "card")


def going_on(document, **found):
    """The same plan for a trial under way."""
    told = {"outcome": "needs more runs", "by_round": [], "why": None, "trials": 2000, **found}
    return complete_plan({**document, "statement": None, "rounds_done": 3, "settling": told})["statement"]


def test_a_trial_under_way_is_told_its_chance_of_a_verdict_round_by_round(document):
    rows = [{"round": number, "chance": chance} for number, chance in ((4, 0.001), (5, 0.254), (6, 0.6))]
    said = going_on(document, by_round=rows)
    assert "trials come to a verdict (a winner, or within noise): 25 by round 5 and 60 by round 6." in said
    assert "Leaving the readings so far aside: after 6 rounds" in said
    many = [{"round": number, "chance": number / 20} for number in range(4, 16)]
    said = going_on(document, by_round=many)
    assert (
        "20 by round 4, 25 by round 5, 30 by round 6, 35 by round 7, 40 by round 8 and 75 by round 15" in said
    )
    assert "0 by round 4." in going_on(document, by_round=rows[:1])


@pytest.mark.parametrize(("chance", "none"), [(0.2, False), (0.0, True)])
def test_no_verdict_is_never_said_beside_a_chance_of_one(document, chance, none):
    said = going_on({**document, "detectable_difference": None}, by_round=[{"round": 4, "chance": chance}])
    assert ("No verdict is possible" in said) is none


def test_where_nothing_can_be_told_nothing_is_made_up():
    few = made(minutes=12, elements=[{"id": "a"}, {"id": "b"}], reference="a")
    assert "No verdict is possible at its end, whatever the readings." in few["statement"]
    speech = speech_of(few)
    assert wording.worthwhile(speech) == ""
    text = render_plan(few, "text").decode()
    assert "Too few rounds for any verdict" in text
    assert "so far ahead of all others" in text
    done = complete_plan({**few, "power": []})
    assert "so far ahead of all others, by round" not in render_plan(done, "text").decode()
    assert "The order (seed" in text
    assert "The order" not in render_plan({**few, "order": []}, "text").decode()
    short = [{"drop": ["b"], "rounds": 1, "detectable_difference": None, "minutes": 6}]
    assert wording.shorter(speech_of({**few, "shorter": short})) == [
        "Without b: 1 round in 6 minutes, too few for any verdict."
    ]


def test_a_known_noise_puts_the_promise_in_meter_units_and_leaves_the_short_way_out():
    known = {"sd": 0.2, "degrees_of_freedom": 9, "rf_channels": ["27", "31", "43"], "from": "ten remounts"}
    speech = speech_of(made(known_repeatability=known, margin=1.0))
    assert wording.remount_study(speech) == ""
    assert "is taken to be 0.20 bars (known repeatability)" in wording.assumptions(speech)[1]
    assert wording.worthwhile(speech).startswith(
        "A lead of 1 bar (your margin) is named in 80 of 100 trials after"
    )
    stated = {**speech.document["worthwhile"], "from": "worthwhile_difference"}
    again = speech_of({**speech.document, "worthwhile": stated})
    assert "(what you find worthwhile)" in wording.worthwhile(again)


@pytest.mark.parametrize(
    ("code", "evidence", "words"),
    [
        ("too-few-rounds", {"rounds": 2, "elements": 6}, "2 rounds of 6 elements cannot settle anything"),
        ("fewer-than-planned", {"rounds": 4, "planned_rounds": 6}, "the time is enough for 4"),
        ("worthwhile-out-of-reach", {"worthwhile_difference": 0.5, "detectable_difference": 0.82},
         "(0.5 bars) is less than this plan is likely to detect (0.82 bars)"),
        ("margin-below-repeatability", {"margin": 0.5, "sd": 0.31, "smallest_useful_margin": 0.62},
         "from about 0.62 bars on"),
        ("long-rounds", {"hours": 4.0, "most_hours": 3.0}, "One round takes about 4 hours"),
        ("plan-done", {"rounds_done": 6, "planned_rounds": 6}, "All 6 rounds of the plan are done"),
        ("rounds-with-gaps", {"missing": [{"element": "brass-3", "round": 3}]}, "3 mm brass rod in round 3"),
    ],
)  # fmt: skip
def test_each_caution_of_a_plan_has_words_with_its_numbers(document, code, evidence, words):
    assert words in plan_cautions.message(speech_of(document), code, evidence)
    assert plan_cautions.title(code)


@pytest.mark.parametrize(
    ("why", "words"),
    [
        ("settled", "settle it already: clear winner. Ask for the verdict"),
        ("no noise", "do not tell how far runs scatter"),
        ("too few runs", "Some element has too few runs so far"),
    ],
)
def test_why_no_chance_is_told_is_said(document, why, words):
    assert words in going_on(document, why=why, outcome="clear winner")


def test_differences_are_said_in_meter_units_where_the_noise_is_known():
    known = {"sd": 0.2, "degrees_of_freedom": 9, "rf_channels": ["27", "31", "43"], "from": "ten remounts"}
    told = made(known_repeatability=known)
    assert "bars ahead of all others" in told["statement"]
    assert "standard deviations" not in told["statement"]
