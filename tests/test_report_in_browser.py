"""The HTML report under the policy it is served with: its styles apply and the browser has nothing to say."""

from pathlib import Path

import pytest

from service.app import create_app

REQUEST = Path(__file__).parents[1] / "openapi" / "examples" / "verdict-request.json"
ADDRESS = "http://localhost/report"


@pytest.fixture(scope="module")
def report():
    client = create_app().test_client()
    body = REQUEST.read_bytes()
    return client.post("/v1/verdicts?form=html", data=body, content_type="application/json")


def shown(browser, report, policy: str) -> tuple[list[str], str]:
    """What the console says, and the font of the page."""
    page = browser.new_page()
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    headers = {"Content-Type": report.content_type, "Content-Security-Policy": policy}
    page.route("**/*", lambda route: route.fulfill(body=report.data, headers=headers))
    page.goto(ADDRESS)
    font = page.evaluate("getComputedStyle(document.body).fontFamily")
    page.close()
    return said, font


def test_the_policy_lets_the_report_through_as_it_is(browser, report):
    said, font = shown(browser, report, report.headers["Content-Security-Policy"])
    assert said == []
    assert "DejaVu Sans" in font


def test_a_policy_without_the_digests_would_be_noticed(browser, report):
    said, font = shown(browser, report, "default-src 'none'; img-src data:")
    assert any("Content Security Policy" in line for line in said)
    assert "DejaVu Sans" not in font
