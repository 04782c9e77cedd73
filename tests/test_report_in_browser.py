"""The HTML report under the policy it is served with: its styles apply and the browser has nothing to say."""

from pathlib import Path

import pytest

from service.app import create_app
from tests.shown_page import ADDRESS, shown_page

REQUEST = Path(__file__).parents[1] / "openapi" / "examples" / "verdict-request.json"


@pytest.fixture(scope="module")
def report():
    client = create_app().test_client()
    body = REQUEST.read_bytes()
    return client.post("/v1/verdicts?form=html", data=body, content_type="application/json")


def shown(browser, report, policy: str = "") -> tuple[list[str], str]:
    """What the console says, and the font of the page."""
    said: list[str] = []
    page = shown_page(browser, report, said, policy=policy)
    page.goto(ADDRESS)
    font = page.evaluate("getComputedStyle(document.body).fontFamily")
    page.close()
    return said, font


def test_the_policy_lets_the_report_through_as_it_is(browser, report):
    said, font = shown(browser, report)
    assert said == []
    assert "DejaVu Sans" in font


def test_a_policy_without_the_digests_would_be_noticed(browser, report):
    said, font = shown(browser, report, "default-src 'none'; img-src data:")
    assert any("Content Security Policy" in line for line in said)
    assert "DejaVu Sans" not in font
