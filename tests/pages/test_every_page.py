"""What holds for each page: nothing for axe-core to find, light and dark; narrow windows, zoom, weight."""

import pytest
from playwright.sync_api import Page

from tests.pages.looking import LIGHT, OF_COLOURS, too_wide, violations, weight
from tests.pages.places import PLACES, kept

EXPECTED = ("422 (UNPROCESSABLE ENTITY)", "404 (NOT FOUND)")


@pytest.fixture(scope="module")
def trial(client):
    """The path of a kept trial with its verdict."""
    return kept(client)


@pytest.fixture(scope="module")
def tab(browser, site):
    """One tab for all, and what its console said."""
    context = browser.new_context(base_url=site)
    page = context.new_page()
    page.set_default_timeout(60_000)
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    yield page, said
    context.close()


@pytest.fixture(params=[*PLACES, "kept trial"])
def place(request, tab, trial) -> Page:
    """Each page in turn, in a window of usual size."""
    page, said = tab
    said.clear()
    page.set_viewport_size({"width": 1280, "height": 900})
    page.emulate_media(color_scheme="light", media="screen")
    if request.param == "kept trial":
        page.goto(trial)
    else:
        PLACES[request.param](page)
    return page


def test_a_page_can_be_used_by_anybody_and_weighs_little(place, tab):
    assert violations(place) == []
    assert weight(place) < LIGHT
    place.emulate_media(color_scheme="dark")
    assert violations(place, rules=OF_COLOURS) == []
    for width in (320, 640):  # a narrow phone; a window of 1280 at a zoom of 200 %
        place.set_viewport_size({"width": width, "height": 700})
        assert too_wide(place) <= 0, width
    assert [line for line in tab[1] if not any(known in line for known in EXPECTED)] == []
    assert place.title().endswith("Aerial Assay")
    assert place.locator("h1").count() == 1


def test_a_page_that_is_too_wide_or_hard_to_read_would_be_seen(tab):
    page, _ = tab
    page.emulate_media(color_scheme="light")
    page.goto("/")
    page.set_viewport_size({"width": 320, "height": 700})
    page.evaluate("document.querySelector('h1').textContent = 'x'.repeat(3)")
    page.evaluate("document.querySelector('h1').style.width = '700px'")
    page.evaluate("document.querySelector('.lead').style.color = '#aaa'")
    assert too_wide(page) > 0
    for rules in (None, OF_COLOURS):
        assert any(line.startswith("color-contrast") for line in violations(page, rules=rules))
