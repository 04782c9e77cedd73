"""On a phone the sections behind the answer are folded; keys, paper and a browser without scripts get all."""

import subprocess

import pytest

from tests.pages.places import kept

FOLDS = "details.fold"
OPEN = "details.fold[open]"


@pytest.fixture(scope="module")
def trial(client):
    """The path of a kept trial with its verdict."""
    return kept(client)


def height(page) -> int:
    return page.evaluate("document.documentElement.scrollHeight")


def printed(page) -> str:
    found = subprocess.run(["pdftotext", "-", "-"], input=page.pdf(), capture_output=True, check=True)
    return " ".join(found.stdout.decode().split())


def test_a_phone_shows_a_trial_in_well_under_half_the_length(look, trial):
    page = look(trial, width=390)
    assert page.locator(OPEN).count() == 0
    folded = height(page)
    page.evaluate("document.querySelectorAll('details.fold').forEach((part) => part.open = true)")
    assert folded < 0.45 * height(page)


def test_a_section_is_opened_by_a_key(look, trial):
    page = look(trial, width=390)
    table = page.locator("#channels table").first
    assert not table.is_visible()
    page.locator("#channels summary").focus()
    page.keyboard.press("Enter")
    assert table.is_visible()


def test_an_address_that_names_a_section_opens_it(look, trial):
    page = look(f"{trial}#channels", width=390)
    assert page.locator("#channels table").first.is_visible()
    page.goto(f"{trial}#method")
    page.locator("#method li").first.wait_for()
    assert page.locator(OPEN).count() == 2


def test_a_wide_screen_and_a_phone_without_scripts_show_all(look, trial):
    for shown in (look(trial, width=1280), look(trial, width=390, script=False)):
        assert shown.locator(OPEN).count() == shown.locator(FOLDS).count() > 10
        assert shown.locator("nav.contents").is_visible()


def test_paper_shows_what_a_phone_has_folded_and_the_phone_folds_it_again(look, trial):
    page = look(trial, width=390)
    assert "SHA-256 of the readings" in printed(page)
    assert page.locator(OPEN).count() == 0
