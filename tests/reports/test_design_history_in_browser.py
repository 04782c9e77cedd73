"""A history's page in a browser: nothing for axe to find, nothing wider than the window, an empty console."""

import pytest

from reports.histories import render_history
from service.api.report_answers import page_policy
from tests.analysis.made_histories import DAYS, creeping
from tests.pages.looking import too_wide, violations
from tests.reports.sample_histories import document

ADDRESS = "http://localhost/history"


@pytest.fixture(scope="module")
def page_bytes():
    return render_history(document(creeping(0.8, days=(DAYS[0], *DAYS[:2]))), "html")


@pytest.mark.parametrize("width", [1200, 360])
def test_it_can_be_read_by_everybody_at_any_width(browser, page_bytes, width):
    page = browser.new_page(viewport={"width": width, "height": 800})
    said = []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    policy = page_policy(page_bytes)
    headers = {"Content-Type": "text/html; charset=utf-8", "Content-Security-Policy": policy}
    page.route("**/*", lambda route: route.fulfill(body=page_bytes, headers=headers))
    page.goto(ADDRESS)
    assert page.evaluate("document.querySelector('figure img').naturalWidth") > 0
    assert too_wide(page) <= 0
    assert said == []
    assert violations(page) == []
    page.close()
