"""What a report on a trial must say, item by item, on every form that carries text.

After the reporting lists of ISO/IEC 17025 7.8, GUM 7.2.6 and ISO 5725-6 (from memory and secondary copies).
"""

import re

import pytest

from tests.reports import sample_documents as samples
from tests.reports import undrawn
from tests.reports.plain import first_page, visible
from tests.reports.sample_situations import amended

# what must be found in the report on the six elements
ITEMS = {
    "title": ["Quayside whip trial (invented)"],
    "report id": ["AA-4297-8008-97D1"],
    "end mark": ["End of report AA-4297-8008-97D1"],
    "dates of the scans": ["12 to 13 May 2026"],
    "date of issue": ["Issued 13 May 2026"],
    "elements": ["brass-3", "brass, rod, 3 mm thick, 690 mm long", "gauge 13 (swg)", "one winter outdoors"],
    "costs": ["4.20 EUR"],
    "twin and pad": ["spare copy of 3 mm brass rod", "3 mm brass rod, weakened on purpose", "3 dB put in"],
    "site and who": ["indoor, upper floor", "the harbour club"],
    "method": ["Unit of replication: the round", "Philox"],
    "version": ["Program version 0.1.0", "numpy 2.4.6", "scipy 1.17.0"],
    "plan": ["6 rounds, as the trial document states; looks: after every round", "Confidence 95 %"],
    "order": ["Order of runs", "no seed of an order is known"],
    "margin": ["The smallest difference you would act on is 0.5 bars"],
    "changes to the plan": ["Changes to the plan"],
    "flow of runs": ["36 planned, 36 done, 0 left out"],
    "flow of channels": ["36 channels scanned, merged into 24 signals (RF channels)"],
    "unit, range, resolution": ["scale from 0 to 10; resolution 1 (stated)"],
    "what the unit is not": ["not a decibel"],
    "difference before interval before p": ["difference (bars) interval, 95 % p adjusted p outcome"],
    "adjustment": ["adjusted for all 15 pairs together"],
    "how p was made": ["by flipping the signs of its round differences"],
    "level of this look": ["The level that this look may use is 0.0050"],
    "schedule of looks": ["Schedule of looks", "this look"],
    "repeatability": ["Repeatability standard deviation", "(2.8 times)", "Degrees of freedom 25"],
    "decision rule": ["The rule: a winner is named only if", "at most 5 of 100 such trials"],
    "controls": ["Spare copy: second brass rod", "Known weakener: brass rod with pad"],
    "cautions": ["The total has no unit"],
    "what it holds for": [
        "It holds for these 4 elements as they were, at this site, on the days of the scans"
    ],
    "what to do next": ["What to do next", "Use 3 mm brass rod."],
    "seed": ["seed 1"],
    "SHA-256": ["4297800897d1a4bf630f8fa7c3c9ac6870d584fb73225470fd4271cc36a1b20d"],
    "how the file was understood": ["text/csv, long form, utf-8, separated by comma", "1 296 rows"],
    "how to replay": ["With the same library versions the bytes are the same"],
    "safety": [
        "power lines",
        "never alone",
        "NEC Article 810",
        "IEC 60728-11",
        "Thunder",
        "Zinc-coated wire",
    ],
    "eye protection and receive only": ["eye protection", "Receive only"],
}
ITEMS |= {
    "drift": ["Drift: not followed, because that takes three rounds at least."],
    "how often it is wrong": ["How often this tool is wrong", "of 1000 such trials at most 50"],
    "where the rule was met": ["The winner a false one is named in at most 5 of 100 such trials"],
    "what to do, in rounds": ["What to do next, in rounds and hours", "6 done, 6 planned"],
}
# the reporting list by number; numbers of pages, rounding and amendments have tests of their own below
NUMBERS = {
    1: ("title", "report id", "end mark"),
    2: ("dates of the scans", "date of issue"),
    3: ("elements", "costs", "twin and pad"),
    4: ("site and who",),
    5: ("method", "version", "flow of channels"),
    6: ("plan", "order", "margin", "changes to the plan"),
    7: ("flow of runs", "flow of channels"),
    8: ("unit, range, resolution", "what the unit is not"),
    9: ("difference before interval before p", "adjustment", "how p was made", "level of this look"),
    10: ("rounded to the uncertainty",),
    11: ("repeatability",),
    12: ("decision rule", "where the rule was met", "how often it is wrong", "schedule of looks"),
    13: ("controls", "cautions", "drift"),
    14: ("what it holds for", "what to do next", "what to do, in rounds"),
    15: ("seed", "SHA-256", "how the file was understood", "how to replay"),
}
ITEMS |= {"rounded to the uncertainty": ["rounding at the very end, to the second digit of the uncertainty"]}
ON_THE_FIRST_PAGE = (
    "title",
    "report id",
    "dates of the scans",
    "date of issue",
    "decision rule",
    "what it holds for",
)
TESTS = re.compile(
    r"sign.flip|permut|shuffl|studentis|bootstrap|signed.rank|Hodges|Friedman|Cochran|Kendall|Tukey|\bp\b|\bsd\b"
)


def test_every_number_of_the_list_has_items_and_every_item_a_number():
    beside = {"safety", "eye protection and receive only"}
    assert sorted(NUMBERS) == list(range(1, 16))
    assert {item for items in NUMBERS.values() for item in items} == set(ITEMS) - beside


@pytest.mark.parametrize("item", ITEMS)
def test_the_page_says(html, item):
    text = visible(html("six elements"))
    assert [words for words in ITEMS[item] if words not in text] == []


@pytest.mark.parametrize("item", ITEMS)
def test_the_pdf_says(pdf_pages, item):
    text = " ".join(pdf_pages("six elements")).replace("- ", "-")
    assert [words for words in ITEMS[item] if words not in text] == []


@pytest.mark.parametrize("item", ON_THE_FIRST_PAGE)
def test_the_first_page_says(html, pdf_pages, item):
    for text in (first_page(html("six elements")), pdf_pages("six elements")[0]):
        assert [words for words in ITEMS[item] if words not in text] == []


def test_every_page_of_the_pdf_has_its_number_and_the_report_id(pdf_pages):
    pages = pdf_pages("six elements")
    for number, text in enumerate(pages, start=1):
        assert f"page {number} of {len(pages)}" in text
        assert "AA-4297-8008-97D1" in text


def test_the_page_is_said_to_be_the_only_one(html):
    assert "Page 1 of 1" in visible(html("six elements"))


def test_the_first_page_is_one_page(pdf_pages, sample_name):
    pages = pdf_pages(sample_name)
    assert "What to do next" in pages[0]
    assert "What could be wrong with this trial" not in pages[0]


def test_the_first_page_names_no_test_and_no_greek_letter(html, sample_name):
    text = first_page(html(sample_name))
    assert TESTS.findall(text) == []
    assert re.findall(r"[\u0370-\u03ff]", text) == []


def test_no_report_prints_what_is_not_there(html, sample_name):
    text = visible(html(sample_name))
    assert re.findall(r"\bNone\b|\bnan\b|\bNaN\b|\binf\b|\{|\}|  ", text) == []


def test_the_outcome_and_its_sentence_stand_alike_for_every_outcome(html):
    shapes = set()
    for name, outcome in (
        ("six elements", "clear winner"),
        ("within noise", "within noise"),
        ("not settled", "needs more runs"),
    ):
        page = html(name)
        assert f"<strong>{outcome}</strong>" in page
        verdict = page.split('<div class="verdict">')[1].split("</div>")[0]
        shapes.add(tuple(re.findall(r'class="(\w+)"', verdict)))
    assert len(shapes) == 1


def test_one_round_keeps_the_persons_own_totals_and_says_what_they_are_worth(html, pdf_pages):
    for text in (visible(html("one round")), " ".join(pdf_pages("one round"))):
        assert "What one scan is worth" in text
        assert "Your totals of this scan" in text
        assert "Break-even spread" in text
        assert "2.06 standard deviations on average; over 3.63 in 1 scan of 20" in text
        assert "The short test: take 3 mm brass rod off and put it on again, 10 times" in text
        assert "No verdict is possible with fewer than 3 rounds" in text


def test_a_trial_without_times_has_no_date_of_issue():
    document = samples.two_elements()
    document["provenance"].update(first_at=None, last_at=None)
    text = visible(undrawn.page(document))
    assert "no date: the readings carry no times" in text


def test_runs_taken_out_are_printed_with_the_result_without_taking_them_out():
    document = samples.two_elements()
    struck = {"runs": [{"element": "bronze-13", "round": 3, "reason": "mast turned in a gust"}]}
    document["struck"] = struck | {"without_strikes": {"outcome": "needs more runs", "winner": None}}
    text = visible(undrawn.page(document))
    assert "mast turned in a gust" in text
    assert "With these runs left in, the outcome is “needs more runs”" in text


def test_an_amended_report_says_what_changed_when_and_why():
    document = amended()
    text = visible(undrawn.page(document))
    assert "Amended since the first readings: 1 change of the trial, 1 correction or withdrawal" in text
    assert "2026-05-13 09:00 the margin from 0.5 to 0.4 the meter was finer than thought" in text
    assert "2026-05-12 10:00 readings, withdrawn by batch 2 72" in text
    assert "withdrawal of batch 1 0 wrong meter" in text
    document["history"] |= {"changes": [], "batches": document["history"]["batches"][:1]}
    text = visible(undrawn.page(document))
    assert "Changes to the plan none since the first readings" in text


def test_the_parts_come_in_the_order_a_reader_asks(html):
    parts = re.findall(r'<section class="\w+" id="([\w-]+)"', html("six elements"))
    assert parts[:5] == ["answer", "sure", "error-rates", "cautions", "next"]
    assert parts[5:9] == ["pairs", "rounds", "drift", "reception"]


def test_an_exact_position_is_never_printed():
    for site in ("hill 51.23456, -0.12345", "51.2345 N / 0.1234 W, loft"):
        page = undrawn.page(samples.two_elements(site=site))
        assert "51.23" not in page
        assert "(position withheld)" in page
