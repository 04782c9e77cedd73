"""Trials whose runs are entered by hand, and a thumb that enters them."""

from collections.abc import Mapping

from playwright.sync_api import Page

from tests.api.kept_requests import Kept

CHANNELS = ("Harbour", "Quay", "Beacon", "Pier")
BARS = {
    "title": "By hand (invented)",
    "meter": {"unit": "bars", "highest": 10},
    "minutes_per_run": 6,
    "elements": [{"id": "tube", "label": "Copper tube"}, {"id": "rod"}],
    "channels": [{"id": name, "rf_channel": str(22 + place)} for place, name in enumerate(CHANNELS)],
}
LEVELS = {**BARS, "meter": {"unit": "dBm"}}
FIRST, SECOND = "tube", "rod"
"""The order of the first round that the trial's seed draws; a test holds it against the plan's."""


def new(client, document: Mapping[str, object] = BARS) -> Kept:
    return Kept.new(client, document)


def entry(kept: Kept) -> str:
    return f"/kept/{kept.path.rpartition('/')[2]}/enter"


def step(page: Page, reading: int) -> None:
    page.locator(f"[data-step='{reading}']").click()


def does(page: Page, what: str) -> None:
    page.locator(f"[data-does={what}]").click()


def cells(kept: Kept) -> list[tuple[object, ...]]:
    """What the trial holds, in its order: element, round, channel, and the value, None where nothing was."""
    return [(one["element"], one["round"], one["channel"], one.get("value")) for one in kept.readings()]
