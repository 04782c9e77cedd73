"""Every page there is, and how a browser comes to it."""

from collections.abc import Callable, Mapping

from playwright.sync_api import Page

from service.pages.start import example_text

SIX_ROUNDS = example_text("six-rounds.csv")
METER = {"unit": "bars", "highest": "10"}


def kept(client, *, title: str = "Quayside trial (invented)") -> str:
    """The path of a new kept trial that holds six rounds."""
    asked = {"table": SIX_ROUNDS, "title": title, **METER}
    answer = client.post("/kept/from-readings", data=asked)
    assert answer.status_code == 303, answer.get_data(as_text=True)
    path = answer.location
    assert client.post(f"{path}/verdict").status_code == 303
    return path


def press(page: Page, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).click()
    page.wait_for_load_state()


def verdict(page: Page) -> None:
    page.goto("/?example=six-rounds")
    press(page, "Judge these readings")


def one_scan(page: Page) -> None:
    page.goto("/?example=one-scan")
    press(page, "Judge these readings")


def faults(page: Page) -> None:
    page.goto("/?example=one-scan")
    page.fill("#table", SIX_ROUNDS.replace("Quay,22,", "Quay,22,? "))
    page.fill("#highest", "a lot")
    press(page, "Judge these readings")


def plan(page: Page) -> None:
    page.goto("/plan")
    page.fill("#minutes_per_run", "6")
    page.fill("#minutes_available", "110")
    page.select_option("#unit", "bars")
    page.fill("#highest", "10")
    page.fill("#elements", "rod A\ntube B\nwire C")
    page.fill("#channels", "Harbour, 22\nQuay, 25")
    press(page, "Make the plan")


def check(page: Page) -> None:
    page.goto("/check")
    page.fill("#table", SIX_ROUNDS)
    page.fill("#baseline", "brass rod")
    page.fill("#candidates", "copper tube")
    page.select_option("#unit", "bars")
    page.fill("#highest", "10")
    press(page, "Check it")


def at(path: str) -> Callable[[Page], None]:
    return lambda page: page.goto(path) and None


PLACES: Mapping[str, Callable[[Page], None]] = {
    "first page": at("/"),
    "faults": faults,
    "verdict": verdict,
    "one scan": one_scan,
    "kept trials": at("/kept"),
    "new trial": at("/kept/new"),
    "plan form": at("/plan"),
    "plan": plan,
    "check form": at("/check"),
    "check": check,
    "how often wrong": at("/how-often-wrong"),
    "nothing there": at("/nowhere"),
}
"""All pages but that of a kept trial, whose path is known once there is one."""
