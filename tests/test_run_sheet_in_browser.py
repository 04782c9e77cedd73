"""The run sheet as a page: under the policy it is served with, as axe sees it, wide, narrow and printed."""

from itertools import pairwise
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe

from service.app import create_app
from tests.shown_page import ADDRESS, shown_page

REQUEST = Path(__file__).parents[1] / "openapi" / "examples" / "plan-request.json"
DOTS_A_MM = 96 / 25.4
RUNS, CHANNELS = 30, 4


@pytest.fixture(scope="module")
def sheet():
    app = create_app()
    body = REQUEST.read_bytes()
    answer = app.test_client().post("/v1/plans?form=html", data=body, content_type="application/json")
    app.close()
    assert answer.status_code == 200
    return answer


@pytest.fixture
def opened(browser, sheet):
    """Opens the sheet as served, in a window of some width; whatever the browser says fails the test."""
    pages, said = [], []

    def open_sheet(width=1000, media="screen"):
        page = shown_page(browser, sheet, said, width=width)
        pages.append(page)
        page.emulate_media(media=media)
        page.goto(ADDRESS)
        return page

    yield open_sheet
    for page in pages:
        page.close()
    assert said == []


@pytest.mark.parametrize("width", [1000, 360])
def test_axe_finds_nothing_amiss(opened, width):
    page = opened(width)
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()
    assert len(found.response["passes"]) > 10


@pytest.mark.parametrize("width", [1000, 360])
def test_nothing_sticks_out_sideways(opened, width):
    page = opened(width)
    assert page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("media", ["screen", "print"])
def test_every_box_is_large_enough_to_write_in(opened, media):
    """8 mm high and 15 mm wide: what a hand writes three digits into; common practice."""
    page = opened(700, media)
    boxes = page.locator(".boxes .box").evaluate_all("all => all.map(box => box.getBoundingClientRect())")
    assert len(boxes) == RUNS * CHANNELS
    assert min(box["height"] for box in boxes) >= 8 * DOTS_A_MM
    assert min(box["width"] for box in boxes) >= 15 * DOTS_A_MM


def test_the_runs_stand_in_their_order_each_in_a_strip_of_its_own(opened):
    page = opened()
    numbers = page.locator("section.run h3 .number").all_inner_texts()
    assert numbers == [str(number) for number in range(1, RUNS + 1)]
    tops = page.locator("section.run").evaluate_all("all => all.map(run => run.getBoundingClientRect().top)")
    assert tops == sorted(tops)
    for word in ("Time", "Weather", "Joints checked", "Aim checked"):
        assert page.get_by_text(word, exact=True).count() == RUNS


def test_every_heading_is_reached_in_order_and_the_language_is_told(opened):
    page = opened()
    assert page.evaluate("document.documentElement.lang") == "en"
    levels = page.locator("h1, h2, h3").evaluate_all("all => all.map(each => Number(each.tagName[1]))")
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))
