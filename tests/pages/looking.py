"""What is asked of every page: nothing for axe to find, nothing wider than the window, light enough."""

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

LIGHT = 100_000


OF_COLOURS = ["color-contrast", "link-in-text-block"]
"""The rules of axe-core that another choice of colours could break."""


def violations(page: Page, *, rules: list[str] | None = None) -> list[str]:
    """What axe-core finds, each with the elements it means; by all of its rules or by these alone."""
    options = {"resultTypes": ["violations"]} | ({} if rules is None else {"runOnly": rules})
    found = Axe().run(page, options=options).response["violations"]
    return [f"{one['id']}: {[node['html'][:160] for node in one['nodes']]}" for one in found]


def too_wide(page: Page) -> int:
    """By how many pixels the page is wider than the window."""
    return page.evaluate("document.documentElement.scrollWidth - window.innerWidth")


def weight(page: Page) -> int:
    """The bytes of the page and of all that it loaded, as they came over the wire (headers left out)."""
    return page.evaluate(
        """() => [...performance.getEntriesByType("navigation"), ...performance.getEntriesByType("resource")]
            .reduce((sum, entry) => sum + entry.encodedBodySize, 0)"""
    )
