"""The drift of a trial: slope, interval, p and the whole way, and a sentence that says what it is worth."""

import pytest

from reports.view import drift as view
from reports.wording import drift
from reports.wording.speech import speech_of
from tests.reports import sample_documents as samples
from tests.reports import undrawn
from tests.reports.plain import visible

HOURLY = {
    "of": "reference",
    "element": "brass-3",
    "runs": 6,
    "slope_per_hour": 0.05,
    "slope_per_run": None,
    "interval": {"low": 0.01, "high": 0.09, "level": 0.95},
    "p_value": 0.024,
    "over_trial": 0.4,
}


def speech(**changes):
    document = samples.two_elements()
    document["drift"] = HOURLY | changes
    return speech_of(document)


@pytest.mark.parametrize(
    ("changes", "worth"),
    [
        ({"p_value": 0.4}, "chance alone moves it so far in 40 of 100 such trials"),
        ({}, "more than chance, but within the 0.5 bars you would act on"),
        ({"over_trial": 0.8}, "more than chance, and more than the 0.5 bars you would act on"),
    ],
)
def test_the_sentence_says_what_a_trend_is_worth(changes, worth):
    assert worth in drift.sentence(speech(**changes))


def test_the_sentence_names_what_moved_and_which_way():
    assert drift.sentence(speech()).startswith("Drift: 3 mm brass rod, the reference, rose by 0.40 bars over")
    fell = speech(element=None, over_trial=-0.4, slope_per_hour=-0.05)
    assert drift.sentence(fell).startswith("Drift: the level of a whole round fell by 0.40 bars")


def test_the_facts_give_slope_interval_and_p():
    facts = {fact.term: fact.text for fact in view.section(speech()).facts[0].facts}
    assert facts["Slope"] == "+0.050 bars an hour"
    assert facts["Interval of the slope, 95 %"] == "0.010 to 0.090 bars an hour"
    assert facts["p of no trend"] == "0.024"
    assert facts["Over the whole trial"] == "+0.40 bars"
    assert facts["Runs it rests on"] == "6"
    by_run = view.section(speech(slope_per_hour=None, slope_per_run=0.05, element=None)).facts[0].facts
    assert {fact.term: fact.text for fact in by_run}["Slope"] == "+0.050 bars a run"


def test_a_level_line_has_no_way_to_round_by():
    level = speech(slope_per_hour=0.0, over_trial=0.0, interval={"low": 0.0, "high": 0.0, "level": 0.95})
    assert "moved by 0 bars" in drift.sentence(level)


def test_where_there_is_no_trend_the_report_says_why():
    section = view.section(speech_of(samples.two_elements()))
    assert section.paragraphs == (drift.TOO_FEW,)
    assert section.facts == ()


def test_the_picture_of_the_rounds_mentions_it():
    document = samples.two_elements()
    document["drift"] = HOURLY
    page = undrawn.page(document)
    caption = page.split('<figure class="rounds">')[1].split("<figcaption>")[1].split("</figcaption>")[0]
    assert "Drift: 3 mm brass rod, the reference, rose by 0.40 bars" in caption
    assert visible(page).count("Drift: 3 mm brass rod, the reference, rose by 0.40 bars") == 3
