"""Numbers, days, units and what is compared are said in the spoken language, in its plural forms."""

from dataclasses import replace

import pytest
from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo

from reports import dates, language, locales, numerals
from reports.wording.safety import site_of
from reports.wording.speech import listed, measured, speech_of
from reports.wording.vocabulary import COUNTED, OUTCOMES, THINGS, UNITS
from tests.languages.invented import plain_words
from tests.reports import sample_documents as samples


@pytest.fixture
def polish(tmp_path, monkeypatch):
    """Polish, as far as two nouns go, is spoken while the test runs."""
    catalog = Catalog(locale="pl")
    catalog.add(("element", "elements"), ("element", "elementy", "elementów"))
    catalog.add(("round", "rounds"), ("runda", "rundy", "rund"))
    catalog.add(("{number} bar", "{number} bars"), ("{number} kreska", "{number} kreski", "{number} kresek"))
    with (tmp_path / "pl.mo").open("wb") as file:
        write_mo(file, catalog)
    spoken = replace(locales.LOCALES[locales.DEFAULT], language="pl")
    monkeypatch.setattr(language, "CATALOGUES", tmp_path)
    monkeypatch.setattr(locales, "LOCALES", {"pl-PL": spoken})
    with locales.speaking("pl-PL"):
        yield


@pytest.mark.usefixtures("polish")
def test_counts_take_the_plural_of_the_language():
    """Reference: Polish takes the second form for 2 to 4, the third for 5 (CLDR, by the library babel)."""
    speech = speech_of(samples.six_elements())
    assert [speech.compared(number) for number in (1, 3, 5)] == ["1 element", "3 elementy", "5 elementów"]
    assert [speech.rounds(number) for number in (1, 22, 25)] == ["1 runda", "22 rundy", "25 rund"]
    bars = ["1 kreska", "3 kreski", "5 kresek", "0.62 kreski", "0 kresek", "\N{MINUS SIGN}1 kreska"]
    assert [measured("bars", bar.split()[0]) for bar in bars] == bars


@pytest.mark.usefixtures("spoken")
def test_what_is_compared_is_said_and_keeps_the_place_of_a_name():
    for compares in THINGS:
        things = THINGS[compares]
        again = things.again.format(name="Q")
        assert plain_words(f"{things.one} {things.many} {things.done} {things.repeated} {again}") == []
        assert (
            plain_words(f"{things.afresh} {things.anew} {COUNTED[compares](1)} {COUNTED[compares](7)}") == []
        )
        assert "Q" in again


@pytest.mark.usefixtures("spoken")
def test_units_and_outcomes_are_said():
    for unit in UNITS:
        words = UNITS[unit]
        assert (
            plain_words(f"{words.level} {measured(unit, '1')} {words.many} {words.name} {words.is_not}") == []
        )
    assert plain_words(" ".join(language.say(outcome) for outcome in OUTCOMES.values())) == []


def test_a_speech_is_in_the_language_in_which_it_was_made(known):
    document = samples.two_elements()
    before = speech_of(document)
    with locales.speaking(known):
        assert speech_of(document).things.many == "éléménts"
    assert before.things.many == speech_of(document).things.many == "elements"


def test_every_kind_of_comparison_is_counted():
    assert list(COUNTED) == list(THINGS)
    for compares in THINGS:
        assert COUNTED[compares](1) == f"1 {THINGS[compares].one}"
        assert COUNTED[compares](2) == f"2 {THINGS[compares].many}"


@pytest.mark.usefixtures("spoken")
@pytest.mark.parametrize("joined", ["and", "or", "or with", "; and"])
def test_lists_are_joined_in_the_language(joined):
    said = listed(["X", "Y", "Z"], joined=joined)
    assert plain_words(said.replace("Y", "")) == []
    assert said.startswith("X, Y")
    assert said.endswith(" Z")
    assert plain_words(listed("BCDFG", most=2)) == []


@pytest.mark.usefixtures("spoken")
def test_numbers_and_days_are_said():
    speech = speech_of(samples.two_elements())
    told = [
        *(numerals.between(0.1, 0.9), speech.between(0.1, 0.9), speech.span(0.1, 0.9), speech.margin()),
        *(numerals.duration(hours) for hours in (0.5, 1.0, 7.0)),
        *(numerals.in_a_thousand(0.0001), site_of({"site": "51.12345, 10.12345"})),
        *(dates.day(f"2026-{month:02}-03T12:00:00Z") for month in range(1, 13)),
        dates.scanned({"first_at": "2026-01-31T12:00:00Z", "last_at": "2026-02-01T12:00:00Z"}),
        dates.scanned({"first_at": None, "last_at": None}),
    ]
    assert plain_words(" ".join(told)) == []
    assert speech.between(0.1, 0.9) == "bétwéén 0.10 ánd 0.90 bárs"
