"""Pages without a mouse, and pages on paper."""

import re

from tests.pages.places import SIX_ROUNDS, kept, verdict
from tests.reports.pdf_text import printed

OUTLINE = "getComputedStyle(document.activeElement).outlineStyle"
FOCUSED = "(document.activeElement.id || document.activeElement.textContent).trim()"


def focused(page) -> str:
    """What has the focus: its id, else its text."""
    return page.evaluate(FOCUSED)


def tab_to(page, name: str) -> list[str]:
    """Press Tab until that has the focus; everything on the way shows that it has it."""
    passed = []
    for _ in range(60):
        page.keyboard.press("Tab")
        passed.append(focused(page))
        assert not page.evaluate(OUTLINE).startswith("none"), passed[-1]
        if passed[-1] == name:
            return passed
    raise AssertionError(f"{name} was not reached: {passed}")


def test_the_keyboard_alone_takes_readings_to_the_verdict(look):
    page = look()
    tab_to(page, "Skip to what this page is about")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "main"
    passed = tab_to(page, "table")
    assert passed == ["readings", "table"]
    page.keyboard.insert_text(SIX_ROUNDS)
    tab_to(page, "unit")
    page.keyboard.type("bars")
    tab_to(page, "highest")
    page.keyboard.type("10")
    page.keyboard.press("Enter")
    page.locator(".verdict").wait_for()
    assert page.locator(".outcome strong").inner_text() == "clear winner"


def test_a_verdict_page_prints_the_report(look):
    page = look()
    verdict(page)
    text = printed(page.pdf(format="A4"))
    statement = re.sub(r"\s+", " ", page.locator(".verdict .statement").inner_text())
    assert statement in text
    for heading in ("What could be wrong with this trial", "Method", "How the file was understood", "Safety"):
        assert heading in text
    assert page.locator(".strip .code").inner_text() in text
    for control in ("Keep this as a trial", "PDF to print", "Kept trials", "Judge other readings"):
        assert control not in text


def test_a_kept_trial_prints_the_report_too(look, client):
    page = look(kept(client), dark=True)
    text = printed(page.pdf(format="A4"))
    assert "copper tube is the best of the 4 elements" in text
    assert "Provenance" in text
    for control in ("Send readings to this trial", "Put on next", "Strike"):
        assert control not in text
    page.emulate_media(media="print", color_scheme="dark")
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
