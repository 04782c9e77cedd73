"""The board of a club day: as large whatever the outcome, no winner without one, fresh or said to be old."""

import re

import pytest

from service.pages import board
from tests.pages.entered import BARS, new
from tests.pages.looking import LIGHT, OF_COLOURS, too_wide, violations, weight
from tests.pages.places import SIX_ROUNDS, kept

GONE = ("ERR_FAILED", "ERR_INTERNET_DISCONNECTED")
ELEMENTS = ("brass rod", "copper tube", "steel wire", "zinc strip")


@pytest.fixture(scope="module")
def decided(client) -> str:
    """The board of a trial with a clear winner."""
    return f"{kept(client)}/board"


@pytest.fixture(scope="module")
def within_noise(client) -> str:
    """The board of a trial whose elements read within a step of one another."""
    return of(level(client))


@pytest.fixture(scope="module")
def not_begun(client) -> str:
    """The board of a trial without readings."""
    return of(new(client))


@pytest.fixture(scope="module")
def each_outcome(decided, within_noise, not_begun) -> tuple[str, ...]:
    """A board of each outcome."""
    return decided, within_noise, not_begun


def of(trial) -> str:
    return f"/kept/{trial.path.rpartition('/')[2]}/board"


def level(client):
    """A trial whose elements read within a step of one another in six rounds."""
    document = {"title": "Level (invented)", "meter": {"unit": "percent"}, "margin": 5}
    trial = new(client, document)
    noise = [0, 1, -1, 1, 0, -1, 0, 1]
    rows = [
        f"{name},{number},C{channel},{50 + channel + noise[(3 * number + 5 * place + channel) % 8]}"
        for number in range(1, 7)
        for place, name in enumerate(("rod", "tube"))
        for channel in range(6)
    ]
    trial.sent("\n".join(["element,round,channel,value", *rows, ""]).encode())
    assert client.post(of(trial).replace("board", "verdict")).status_code == 303
    return trial


def marked(text: str) -> list[str]:
    """The rows that stand out as the winner's."""
    return re.findall(r'<tr class="winner">.*?<th scope="row">(.*?)</th>', text)


def outcome(page) -> str:
    return page.locator(".board-outcome").inner_text()


def test_a_clear_winner_is_named_and_marked(client, decided, look):
    page = look(decided)
    assert outcome(page) == "clear winner"
    assert "copper tube is the best of the 4 elements" in page.locator(".board-statement").inner_text()
    assert marked(client.get(decided).get_data(as_text=True)) == ["copper tube"]
    assert page.get_by_text("nothing", exact=True).is_visible()
    assert page.get_by_text("All planned runs are done, and the question is answered.").is_visible()


def test_elements_within_noise_share_their_place_and_none_is_marked(within_noise, look):
    page = look(within_noise)
    assert outcome(page) == "within noise"
    assert page.locator(".board-place").all_inner_texts() == ["1, shared", "1, shared"]
    assert page.locator("tr.winner").count() == 0
    assert page.locator(".board-says").all_inner_texts() == ["shares the lead", "shares the lead"]


def test_before_anything_is_settled_it_says_needs_more_runs_and_marks_nobody(client, look):
    trial = new(client)
    page = look(of(trial))
    assert outcome(page) == "needs more runs"
    assert page.get_by_text("No readings have come yet.").is_visible()
    trial.sent(b"element,round,channel,value\ntube,1,Quay,9\nrod,1,Quay,1\n")
    client.post(of(trial).replace("board", "verdict"))
    page.reload()
    assert outcome(page) == "needs more runs"
    assert page.locator("tr.winner").count() == 0
    assert page.locator(".board-says").all_inner_texts() == ["ahead, by chance or not", "not told apart yet"]


def test_every_outcome_stands_in_the_same_size(each_outcome, look):
    sizes = set()
    for path in each_outcome:
        page = look(path)
        sizes.add(page.locator(".board-outcome").evaluate("it => getComputedStyle(it).fontSize"))
    assert len(sizes) == 1
    assert float(sizes.pop().removesuffix("px")) > 75


def test_it_tells_what_is_next_and_how_long_the_plan_still_takes(client, look):
    trial = new(client)
    page = look(of(trial))
    big = page.locator(".board-big").all_inner_texts()
    assert big == ["Copper tube", "0 of 6", "about 1.5 hours"]  # 12 runs of 6 minutes: 72, rounded up
    assert page.get_by_text("12 runs to go, 6 minutes each").is_visible()
    trial.sent(b"element,round,channel,value\ntube,1,Quay,9\n")
    page.reload()
    assert page.locator(".board-big").all_inner_texts() == ["rod", "0 of 6", "about 1.5 hours"]
    assert page.get_by_text("11 runs to go, 6 minutes each").is_visible()
    assert page.get_by_text("round 1, run 2 of 2").is_visible()
    unknown = look(of(new(client, {**BARS, "minutes_per_run": None})))
    assert unknown.locator(".board-big").all_inner_texts()[2] == "not known"


def test_a_verdict_that_lacks_the_latest_readings_says_so(client):
    path = kept(client)
    more = "element,round,channel,value\n" + "".join(f"{name},7,Quay,5\n" for name in ELEMENTS)
    answer = client.post(f"/v1/trials/{path.rpartition('/')[2]}/readings", data=more, content_type="text/csv")
    assert answer.status_code == 201, answer.json
    text = client.get(f"{path}/board").get_data(as_text=True)
    assert "what came since is not in it" in text
    assert "clear winner" in text


def test_a_trial_that_refers_to_what_is_not_there_still_has_a_board(client, look):
    trial = new(client)
    trial.sent(b"element,round,channel,value\ntube,1,Quay,9\n")
    trial.patch({"reference": "nobody", "reason": "a try"})
    client.post(of(trial).replace("board", "verdict"))
    page = look(of(trial))
    assert outcome(page) == "needs more runs"
    assert page.locator(".board-big").all_inner_texts() == ["not known"] * 3
    assert "no verdict can be reached" in page.locator(".board-note").inner_text()


def test_a_script_gets_nothing_anew_while_nothing_changed(client):
    trial = new(client)
    first = client.get(of(trial))
    again = client.get(of(trial), headers={"If-None-Match": first.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")
    assert first.headers["Cache-Control"] == "no-store"
    trial.sent(b"element,round,channel,value\ntube,1,Quay,9\n")
    assert client.get(of(trial), headers={"If-None-Match": first.headers["ETag"]}).status_code == 200


def test_for_a_script_that_has_it_nothing_is_worked_out(client, monkeypatch):
    trial, worked_out = new(client), []
    monkeypatch.setattr(board, "runs_to_come", lambda _material: worked_out.append(1))
    first = client.get(of(trial))
    assert worked_out == [1]
    assert client.get(of(trial), headers={"If-None-Match": first.headers["ETag"]}).status_code == 304
    assert worked_out == [1]


def test_without_javascript_the_page_loads_itself_again(client, not_begun):
    text = client.get(not_begun).get_data(as_text=True)
    assert '<noscript><meta http-equiv="refresh" content="15"></noscript>' in text
    assert re.search(r"as of <time [^>]+>\d+ \w+ \d{4}, \d\d:\d\d UTC</time>", text)


def test_the_board_follows_the_trial_by_itself(client, look, monkeypatch):
    monkeypatch.setattr(board, "SECONDS", 0.3)
    trial = new(client, {"title": "Fed (invented)", "meter": {"unit": "bars", "highest": 10}})
    page = look(of(trial))
    trial.sent(SIX_ROUNDS.encode())
    client.post(of(trial).replace("board", "verdict"))
    page.get_by_text("clear winner", exact=True).wait_for()
    assert page.title().startswith("clear winner: ")


def test_a_lost_connection_is_said_with_the_time_the_board_is_of(not_begun, look, monkeypatch):
    monkeypatch.setattr(board, "SECONDS", 0.3)
    page = look(not_begun, expects=GONE)
    page.context.set_offline(True)
    page.get_by_text("The server does not answer.").wait_for()
    held = page.locator("time").inner_text()
    assert re.fullmatch(r"\d\d:\d\d:\d\d", held)
    assert page.locator(".board-told").inner_text() == (
        f"The server does not answer. All this is as of {held}. It is looked for again by itself."
    )
    assert outcome(page) == "needs more runs"
    page.context.set_offline(False)
    page.locator(".board-told:empty").wait_for(state="attached")


@pytest.mark.parametrize(("width", "height"), [(1280, 720), (1920, 1080)])
def test_it_fits_a_projector_without_scrolling(look, each_outcome, width, height):
    for path in each_outcome:
        page = look(path, width=width, height=height)
        assert page.evaluate("document.querySelector('.board').getBoundingClientRect().bottom") <= height
        small = page.evaluate(
            """() => [...document.querySelectorAll(".board p, .board td, .board th, .board h1, .board h2")]
                .map((one) => parseFloat(getComputedStyle(one).fontSize) / innerWidth)"""
        )
        assert min(small) > 1 / 90  # a letter of a ninetieth of the width: 2 cm on a picture 1.8 m wide


def test_anybody_can_read_it_in_any_window(look, decided):
    page = look(decided)
    assert weight(page) < LIGHT
    for width, height in ((1280, 900), (320, 640)):
        page.set_viewport_size({"width": width, "height": height})
        page.emulate_media(color_scheme="light")
        assert violations(page) == []
        page.emulate_media(color_scheme="dark")
        assert violations(page, rules=OF_COLOURS) == []
    assert too_wide(page) <= 0


def test_the_trial_page_leads_to_the_board_and_back(client, look):
    page = look(f"/kept/{new(client).path.rpartition('/')[2]}")
    page.get_by_role("link", name="Table for a club day").click()
    page.locator(".board-outcome").wait_for()
    page.get_by_role("link", name="The trial", exact=True).click()
    page.get_by_role("heading", name="Put on next").wait_for()


def test_many_elements_are_counted_beyond_what_can_be_read(client, look):
    names = [f"element {number}" for number in range(1, 13)]
    trial = new(client, {**BARS, "elements": [{"id": name} for name in names]})
    lines = [f"{name},{number},Quay,{3 + place % 4}" for number in (1, 2) for place, name in enumerate(names)]
    trial.sent("\n".join(["element,round,channel,value", *lines, ""]).encode())
    page = look(of(trial))
    assert page.get_by_text("No verdict has been asked for yet.").is_visible()
    client.post(of(trial).replace("board", "verdict"))
    page.reload()
    page.locator(".board-place").first.wait_for()
    assert page.locator(".board-place").count() == 8
    assert page.get_by_text("4 more behind these").is_visible()
