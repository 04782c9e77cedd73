"""A run entered channel by channel in a browser: what is typed is what is kept, and once."""

import re

import pytest

from tests.pages.entered import BARS, FIRST, LEVELS, SECOND, cells, does, entry, new, step
from tests.pages.looking import LIGHT, OF_COLOURS, too_wide, violations, weight

OFFLINE = ("ERR_INTERNET_DISCONNECTED",)
REFUSED = ("422 (UNPROCESSABLE ENTITY)",)
ABORTED = ("ERR_FAILED",)


@pytest.fixture
def kept(client):
    return new(client)


def told(page) -> str:
    return page.locator(".run-told").inner_text()


def answered(page) -> dict[str, str]:
    """What the list on the page says of each channel."""
    return {
        line.locator(".walk-name").inner_text(): line.locator(".walk-read").inner_text()
        for line in page.locator(".walk-list li").all()
    }


def test_the_first_run_is_the_one_that_a_plan_would_put_first(client, kept, look):
    page = look(entry(kept))
    question = {"trial": BARS, "minutes_per_run": 6, "minutes_available": 120}
    order = client.post("/v1/plans", json=question).json["order"]
    assert [run["element"] for run in order[:2]] == [FIRST, SECOND]
    assert page.locator("h1").inner_text() == "Copper tube, round 1"


def test_a_run_typed_with_the_thumb_is_kept_as_it_was_typed(kept, look):
    page = look(entry(kept), width=390, height=844)
    assert re.split(r"\n+", page.locator(".walk-now").inner_text()) == ["1 of 4", "Harbour", "RF channel 22"]
    step(page, 7)
    does(page, "lost")
    assert page.locator(".walk-count").inner_text() == "3 of 4"
    does(page, "skip")
    step(page, 10)
    does(page, "send")
    page.get_by_text("Sent as batch 1: Copper tube, round 1, with 3 readings.").wait_for()
    assert cells(kept) == [(FIRST, 1, "Harbour", 7.0), (FIRST, 1, "Quay", None), (FIRST, 1, "Pier", 10.0)]
    page.get_by_role("link", name="Enter the next run").click()
    page.get_by_role("heading", name="rod, round 1").wait_for()
    assert answered(page) == dict.fromkeys(("Harbour", "Quay", "Beacon", "Pier"), "")
    assert page.evaluate("localStorage.length") == 0


def test_the_run_carries_the_time_it_was_begun_with_its_zone(kept, look):
    page = look("/how-often-wrong", zone="Asia/Kathmandu")
    page.clock.set_fixed_time("2026-05-12T08:15:00Z")
    page.goto(entry(kept))
    step(page, 1)
    page.clock.set_fixed_time("2026-05-12T08:19:00Z")
    does(page, "rest")
    does(page, "send")
    page.get_by_text("Sent as batch 1").wait_for()
    assert [one["at"] for one in kept.readings()] == ["2026-05-12T08:15:00Z"]
    assert page.locator("#at").input_value() == "2026-05-12T14:00:00+05:45"


def test_the_keyboard_alone_enters_undoes_and_sends(client, look):
    kept = new(client, LEVELS)
    page = look(entry(kept))
    page.keyboard.type("-62,5")
    page.keyboard.press("Enter")
    page.keyboard.type("n")
    page.keyboard.press("Backspace")
    assert answered(page) == {"Harbour": "-62.5", "Quay": "", "Beacon": "", "Pier": ""}
    page.keyboard.type("\N{MINUS SIGN}70")
    page.keyboard.press("Enter")
    page.keyboard.type("s")
    page.keyboard.type("-6 2")
    page.keyboard.press("Enter")
    assert "-6 2 was not taken" in page.locator(".walk-fault").inner_text()
    page.keyboard.press("Control+a")
    page.keyboard.type("N")
    page.keyboard.press("Enter")
    page.get_by_text("Sent as batch 1").wait_for()
    assert cells(kept) == [
        (FIRST, 1, "Harbour", -62.5),
        (FIRST, 1, "Quay", -70.0),
        (FIRST, 1, "Pier", None),
    ]


def test_undo_takes_back_one_step_at_a_time_whatever_it_was(kept, look):
    page = look(entry(kept))
    step(page, 3)
    step(page, 4)
    does(page, "rest")
    assert page.get_by_text("All 4 channels are answered.").is_visible()
    page.locator(".walk-list button").nth(0).click()
    step(page, 5)
    assert answered(page) == {"Harbour": "5", "Quay": "4", "Beacon": "not scanned", "Pier": "not scanned"}
    does(page, "undo")
    assert answered(page)["Harbour"] == "3"
    does(page, "undo")
    assert answered(page) == {"Harbour": "3", "Quay": "4", "Beacon": "", "Pier": ""}
    page.get_by_text("With a keyboard").click()
    does(page, "anew")
    assert set(answered(page).values()) == {""}
    does(page, "undo")
    assert answered(page) == {"Harbour": "3", "Quay": "4", "Beacon": "", "Pier": ""}


def test_a_reading_that_the_meter_cannot_show_is_not_taken(kept, look):
    page = look(entry(kept))
    page.keyboard.type("11")
    page.keyboard.press("Enter")
    assert page.locator(".walk-fault").inner_text() == "11 was not taken. In bars, from 0 to 10."
    assert page.locator(".walk-count").inner_text() == "1 of 4"


def test_a_run_in_which_nothing_was_scanned_is_not_sent(kept, look):
    page = look(entry(kept))
    does(page, "rest")
    does(page, "send")
    assert "there is nothing to keep" in told(page)
    assert kept.readings() == []


def test_reloading_half_way_loses_nothing_and_says_so(kept, look):
    page = look(entry(kept))
    step(page, 6)
    does(page, "lost")
    page.reload()
    assert re.match(r"Found again in this browser: 2 of 4 channels, begun \d{4}-", told(page))
    assert answered(page) == {"Harbour": "6", "Quay": "nothing found", "Beacon": "", "Pier": ""}
    assert page.locator(".walk-channel").inner_text() == "Beacon"
    does(page, "undo")
    assert page.locator(".walk-channel").inner_text() == "Quay"


def test_without_a_connection_the_run_waits_says_so_and_goes_out_by_itself(kept, look):
    page = look(entry(kept), expects=OFFLINE)
    step(page, 6)
    page.context.set_offline(True)
    does(page, "rest")
    does(page, "send")
    page.get_by_text("Not sent yet.").wait_for()
    assert "There is no connection." in told(page)
    does(page, "change")
    does(page, "undo")
    for reading in (7, 8, 9):
        step(page, reading)
    does(page, "send")
    page.get_by_text("Not sent yet.").wait_for()
    assert kept.readings() == []
    page.context.set_offline(False)
    page.get_by_text("with 4 readings.").wait_for()
    assert [value for *_, value in cells(kept)] == [6.0, 7.0, 8.0, 9.0]


def test_a_run_that_waits_goes_out_after_a_reload_too(kept, look):
    page = look(entry(kept), expects=OFFLINE)
    page.context.set_offline(True)
    step(page, 2)
    does(page, "rest")
    does(page, "send")
    page.get_by_text("Not sent yet.").wait_for()
    page.context.set_offline(False)
    page.reload()
    page.get_by_text("with 1 reading.").wait_for()
    assert cells(kept) == [(FIRST, 1, "Harbour", 2.0)]


def lose_answers(page, kept) -> list[str]:
    """Let the server answer, and lose its answers on the way until unrouted: gives the keys it was sent."""
    keys: list[str] = []

    def lose(route):
        keys.append(route.request.headers["idempotency-key"])
        route.fetch()
        route.abort()

    page.route(f"**{kept.path}/readings", lose)
    return keys


def test_an_answer_lost_on_the_way_keeps_the_run_once(kept, look):
    page = look(entry(kept), expects=ABORTED)
    keys = lose_answers(page, kept)
    step(page, 6)
    does(page, "rest")
    does(page, "send")
    page.get_by_text("It may have arrived").wait_for()
    assert page.locator(".walk-all").evaluate("fields => fields.disabled")
    assert len(kept.readings()) == 1
    page.unroute_all(behavior="wait")
    with page.expect_request(f"**{kept.path}/readings") as again:
        page.get_by_text("with 1 reading.").wait_for()
    assert {*keys, again.value.headers["idempotency-key"]} == {keys[0]}
    assert cells(kept) == [(FIRST, 1, "Harbour", 6.0)]
    assert kept.get().json["kept"]["history"]["batches"][-1]["number"] == 1


def test_an_answer_lost_before_the_tab_was_closed_is_asked_for_on_the_next_run(kept, look):
    page = look(entry(kept), expects=ABORTED)
    lose_answers(page, kept)
    step(page, 6)
    does(page, "rest")
    does(page, "send")
    page.get_by_text("It may have arrived").wait_for()
    page.unroute_all(behavior="wait")
    page.goto(entry(kept))
    page.get_by_role("heading", name="rod, round 1").wait_for()
    page.get_by_text("Copper tube, round 1 was still to be sent: now sent as batch 1.").wait_for()
    assert len(kept.readings()) == 1


def test_a_run_begun_and_left_is_offered_again(kept, look):
    page = look(entry(kept))
    step(page, 6)
    page.goto(f"{entry(kept)}?element={SECOND}&round=1")
    page.get_by_role("link", name="Go on with Copper tube, round 1").click()
    page.get_by_text("Found again in this browser: 1 of 4").wait_for()


def test_a_fault_that_the_server_finds_stands_at_its_channel_and_nothing_is_lost(kept, look):
    page = look(entry(kept), expects=REFUSED)
    kept.patch({"meter": {"unit": "bars", "highest": 5}})
    for reading in (4, 9, 5, 3):
        step(page, reading)
    does(page, "send")
    page.get_by_text("What is to be mended stands at its channel below.").wait_for()
    assert page.locator(".walk-channel").inner_text() == "Quay"
    faults = page.locator(".walk-list .fault")
    assert faults.count() == 1
    assert page.locator(".walk-list li.at-fault .walk-name").inner_text() == "Quay"
    assert kept.readings() == []
    step(page, 2)
    does(page, "send")
    page.get_by_text("with 4 readings.").wait_for()
    assert [value for *_, value in cells(kept)] == [4.0, 2.0, 5.0, 3.0]


def test_a_browser_that_keeps_nothing_is_warned_of(kept, look):
    page = look(entry(kept))
    page.evaluate("() => { Storage.prototype.setItem = () => { throw new Error() } }")
    step(page, 6)
    assert "This browser keeps nothing" in told(page)


def test_anybody_can_use_it_in_any_window(kept, look):
    page = look(entry(kept), width=320, height=640)
    step(page, 6)
    assert_used_by_anybody(page)
    assert too_wide(page) <= 0
    assert weight(page) < LIGHT
    small = page.evaluate(
        """() => [...document.querySelectorAll(".walk button")].filter((button) => button.offsetParent)
            .map((button) => [button.textContent, button.offsetWidth, button.offsetHeight])
            .filter(([, width, height]) => Math.min(width, height) < 48)"""
    )
    assert small == []
    does(page, "rest")
    assert_used_by_anybody(page)


def assert_used_by_anybody(page):
    """In the light and in the dark."""
    page.emulate_media(color_scheme="light")
    assert violations(page) == []
    page.emulate_media(color_scheme="dark")
    assert violations(page, rules=OF_COLOURS) == []
