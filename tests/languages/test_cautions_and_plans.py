"""Cautions and plans hold no word that cannot be translated, but for names and what a program reads."""

import io
import json
import re
from pathlib import Path

import openpyxl
import pytest

from reports.plans import render_plan
from reports.severities import SEVERITIES
from reports.view.cautions import section
from reports.wording import cautions, check_cautions, plan_cautions
from reports.wording.plan import complete_plan
from reports.wording.speech import speech_of
from service.analysis.plan_facts import NOTHING_YET
from service.analysis.planning import plan
from service.statistics.bell_reference import MemoryStore
from service.trial.plan_question import PlanQuestion
from service.trial.trial_document import trial_from_document
from tests.languages.invented import plain_words
from tests.reports import sample_documents as samples
from tests.reports.sample_cautions import CAUTIONS

EXAMPLE = Path(__file__).parents[2] / "openapi" / "examples" / "plan-request.json"
TRIAL = json.loads(EXAMPLE.read_text(encoding="utf-8"))["trial"]
STORE = MemoryStore()
GIVEN = {
    "bands-disagree": "VHF-high UHF",
    "blanks-read-as-lost": "not scanned",
    "gauge-table-unknown": "awg swg gauge.table",
    "plan-changed": "the old one was too fine",
    "rests-on-known-repeatability": "ten remounts",
    "rf-channel-unknown": "Harbour",
    "rounds-inferred": "round",
    "runs-struck": "gust",
    "unplanned-looks": "looks: every round",
}
"""Names and reasons of the samples, and words of the table of readings and of the trial's document."""
READ_BY_PROGRAMS = {"channel", "rf_channel", "planned_rounds", "none", "not scanned"}
OWN = {
    "too-few-rounds": {"rounds": 2, "elements": 6},
    "fewer-than-planned": {"rounds": 4, "planned_rounds": 6},
    "worthwhile-out-of-reach": {"worthwhile_difference": 0.5, "detectable_difference": 0.82},
    "margin-below-repeatability": {"margin": 0.5, "sd": 0.31, "smallest_useful_margin": 0.62},
    "long-rounds": {"hours": 4.0},
    "plan-done": {"planned_rounds": 6},
    "rounds-with-gaps": {"missing": [{"element": "z1", "round": 3}]},
    "no-reference": {},
    "no-control": {"lacking": ["twin", "pad"]},
    "displayed-numbers": {
        "channels": [
            {"channel": "27.1", "why": why} for why in ("not stated", "as displayed", "not in the region")
        ]
    },
    "channels-not-named": {},
    "noise-not-known": {},
}
"""Evidence for every caution that only plans have."""


def without_names(document):
    """The document with elements whose names hold no vowel."""
    for number, entry in enumerate(document["elements"], start=1):
        entry["label"] = f"z{number}"
    return document


@pytest.mark.usefixtures("spoken")
@pytest.mark.parametrize("code", CAUTIONS)
def test_a_caution_is_said_whole(code):
    said = cautions.message(speech_of(without_names(samples.six_elements())), code, CAUTIONS[code][1])
    titles = cautions.title(code), cautions.phrase(code)
    left = {word for text in (said, *titles) for word in plain_words(text)}
    assert left <= set(plain_words(GIVEN.get(code, "")))
    assert plain_words(said) or code not in GIVEN


@pytest.mark.usefixtures("spoken")
def test_titles_of_checks_and_severities_are_said():
    codes = check_cautions.TITLES
    said = [*map(check_cautions.title, codes), *map(check_cautions.phrase, codes)]
    document = without_names(samples.six_elements())
    document["cautions"] = [
        {"code": "safety", "severity": severity, "message": "", "evidence": {}} for severity in SEVERITIES
    ]
    notes = section(speech_of(document)).notes
    assert plain_words(" ".join([*said, *(note.severity + note.title for note in notes)])) == []


def made(minutes=108, **changes):
    """A plan of elements, channels and a site whose names hold no vowel."""
    elements = [
        {"id": "z1"}, {"id": "z2"}, {"id": "z3"}, {"id": "z4", "twin_of": "z1"},
        {"id": "z5", "pad_of": "z1", "pad_db": 3.0},
    ]  # fmt: skip
    channels = [{"id": f"{number}.1", "rf_channel": str(number)} for number in (27, 31)]
    stated = {"title": "zz", "site": None, "elements": elements, "channels": channels, "reference": "z1"}
    trial = trial_from_document({**TRIAL, **stated, **changes})
    return complete_plan(plan(trial, PlanQuestion(minutes, 6), NOTHING_YET, store=STORE))


@pytest.fixture
def document(spoken):  # noqa: ARG001 (the plan is made while the invented language is spoken)
    """A plan with every caution that only plans have."""
    found = made()
    speech = speech_of(found)
    own = [
        {
            "code": code,
            "severity": "warning",
            "message": plan_cautions.message(speech, code, evidence),
            "evidence": evidence,
        }
        for code, evidence in OWN.items()
    ]
    return {**found, "cautions": own}


def test_every_caution_that_only_plans_have_is_tried():
    assert set(plan_cautions._OWN) == set(OWN)


def test_what_stands_in_the_document_is_said_but_for_the_field_it_names(document):
    said = " ".join(entry["message"] for entry in document["cautions"])
    assert set(plain_words(said)) == {"channels"}


def words_on_sheet(document):
    """The plain words of the run sheet, but for its code and the name of what made it."""
    page = render_plan(document, "html").decode()
    text = re.sub(r"<style.*?</style>|<[^>]*>|plan-[0-9a-f]{12}|Aerial Assay", " ", page, flags=re.DOTALL)
    return set(plain_words(text))


ON_SHEET = {"none", "not", "scanned"}
"""What is typed."""


def test_a_plan_is_said_whole_as_text_and_on_its_sheet(document):
    assert set(plain_words(render_plan(document, "text").decode())) == set()
    assert words_on_sheet(document) == ON_SHEET


@pytest.mark.parametrize(
    "going",
    [
        {"settling": {"outcome": "clear winner", "by_round": [], "why": why}, "rounds_done": 3}
        for why in ("settled", "no noise", "too few runs")
    ]
    + [
        {
            "settling": {"outcome": "", "by_round": [{"round": 4, "chance": 0.2}], "why": None},
            "rounds_done": 3,
        },
        {"rounds": 0, "order": []},
        {"noise": {"sd": 0.2, "degrees_of_freedom": 9, "from": "readings so far"}},
        {"noise": {"sd": 0.2, "degrees_of_freedom": 9, "from": "known repeatability"}},
        {"detectable_difference": None},
        {"shorter": [{"drop": ["z2"], "rounds": 1, "detectable_difference": None, "minutes": 6}]},
    ],
)
def test_a_plan_under_way_is_said_whole(document, going):
    assert words_on_sheet(complete_plan({**document, "statement": None, **going})) == ON_SHEET


def test_the_workbook_is_said_whole_and_read_as_ever(document):
    book = openpyxl.load_workbook(io.BytesIO(render_plan(document, "xlsx")))
    readings, allowed, runs = book.worksheets
    assert readings.title == "readings"
    assert [cell.value for cell in readings[1]][:2] == ["channel", "rf_channel"]
    (validation,) = readings.data_validations.dataValidation
    assert '"not scanned"' in validation.formula1
    cells = [cell.value for sheet in (allowed, runs) for row in sheet.iter_rows() for cell in row]
    words = [str(cell) for cell in cells if cell is not None and cell not in READ_BY_PROGRAMS]
    told = [allowed.title, runs.title, validation.errorTitle, *words]
    assert {word for text in told for word in plain_words(text)} == {"none"}
    assert set(plain_words(validation.error)) == {"none", "not", "scanned"}


def test_the_table_to_fill_in_is_headed_as_ever(document):
    heading = render_plan(document, "csv").decode("utf-8-sig").splitlines()[0]
    assert heading.startswith("channel,rf_channel,z")
