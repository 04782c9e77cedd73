"""Numbers, dates and paper as the locale has them; outcomes, and the bytes of the default one, untouched."""

import datetime
import re

import pytest
from babel import Locale
from babel.dates import format_date

import reports
from reports import dates, numerals
from reports.locales import DEFAULT, LOCALES, speaking, spoken
from reports.wording import complete
from service.settings import LOCALES as SETTABLE
from tests.reports import sample_documents as samples
from tests.reports import undrawn
from tests.reports.conftest import MAKERS, rendered
from tests.reports.plain import visible

A_POINT = re.compile(r"(?<![\w.])\d+\.\d+(?![\w.])")
THOUSANDS = re.compile(r"[1-9]\d{0,2}\.\d{3}")


def in_locale(locale: str, name: str, form: str) -> str:
    with speaking(locale):
        if form == "html":
            return undrawn.page(MAKERS[name]())
        return reports.render(MAKERS[name](), form).decode("utf-8")


@pytest.mark.parametrize("name", LOCALES)
def test_marks_and_dates_are_those_of_cldr(name):
    """Reference: Unicode CLDR as the library babel carries it, computed here."""
    locale, cldr = LOCALES[name], Locale.parse(name, sep="-")
    symbols = cldr.number_symbols["latn"]
    assert locale.decimal == symbols["decimal"]
    assert locale.group == (numerals.NARROW_SPACE if name == DEFAULT else symbols["group"])
    day = datetime.date(2026, 5, 3)
    with speaking(name):
        assert dates.day("2026-05-03T12:00:00Z") == format_date(day, "long", locale=cldr)


def test_settings_and_reports_know_the_same_locales():
    assert tuple(LOCALES) == SETTABLE


@pytest.mark.parametrize(
    ("locale", "number", "count"),
    [("en-GB", "−1.50", "1\u202f296.5"), ("en-US", "−1.50", "1,296.5"), ("en-DE", "−1,50", "1.296,5")],
)
def test_numbers_take_the_marks_of_the_locale(locale, number, count):
    with speaking(locale):
        assert numerals.fixed(-1.5, 2) == number
        assert numerals.count(1296.5) == count
        assert numerals.plain(-0.0) == "0"
        assert numerals.seen(2.5, 1.0) == f"2{LOCALES[locale].decimal}5"
        assert numerals.probability(0.00001) == f"< 0{LOCALES[locale].decimal}0001"


@pytest.mark.parametrize(
    ("locale", "same_month", "two_months"),
    [
        ("en-GB", "12 to 13 May 2026", "30 April 2026 to 2 May 2026"),
        ("en-US", "May 12 to 13, 2026", "April 30, 2026 to May 2, 2026"),
        ("en-DE", "12 to 13 May 2026", "30 April 2026 to 2 May 2026"),
    ],
)
def test_a_span_of_days(locale, same_month, two_months):
    with speaking(locale):
        may = {"first_at": "2026-05-12T09:00:00Z", "last_at": "2026-05-13T09:00:00Z"}
        assert dates.scanned(may) == same_month
        spring = {"first_at": "2026-04-30T09:00:00Z", "last_at": "2026-05-02T09:00:00Z"}
        assert dates.scanned(spring) == two_months


def test_an_american_report_is_on_letter_and_names_the_month_first():
    page = in_locale("en-US", "six elements", "html")
    assert "size: letter" in page
    assert '<html lang="en-US">' in page
    assert "May 12 to 13, 2026" in visible(page)
    with speaking("en-US"):
        assert "size: A4" in undrawn.page(MAKERS["two elements"](), paper="a4")


@pytest.mark.parametrize("form", ["html", "markdown", "summary"])
@pytest.mark.parametrize("name", ["six elements", "one round", "known noise", "decibels", "not settled"])
def test_with_a_decimal_comma_no_number_keeps_a_point(form, name):
    made = in_locale("en-DE", name, form)
    text = visible(made) if form == "html" else made
    left = {found[0] for found in A_POINT.finditer(text) if not THOUSANDS.fullmatch(found[0])}
    versions = set(samples.two_elements()["method"]["versions"].values())
    named = {"0.25", "0.5", "0.1"}  # names of kinds of noise in the stored study
    assert left - versions - named == set()
    assert re.search(r"\d,\d", text)


def test_sentences_that_were_filled_in_elsewhere_are_worded_anew():
    document = complete(samples.six_elements())
    assert "0.22" in document["verdict"]["statement"]
    with speaking("en-DE"):
        text = reports.render(document, "summary").decode()
    assert "0,22" in text
    assert "0.22" not in text
    assert "0.22" in document["verdict"]["statement"]


def test_outcomes_and_codes_do_not_change_with_the_locale():
    junit = in_locale("en-DE", "six elements", "junit")
    assert "clear winner" in junit


def test_the_locale_ends_with_the_report_even_where_it_fails():
    with pytest.raises(ValueError, match="docx"), speaking("en-DE"):
        reports.render(samples.two_elements(), "docx")
    assert spoken() is LOCALES[DEFAULT]
    assert reports.render(MAKERS["two elements"](), "csv") == rendered("two elements", "csv")


def test_a_locale_that_is_not_known_is_refused_with_those_there_are():
    with pytest.raises(ValueError, match="en-GB, en-US, en-DE"), speaking("tlh"):
        pass
