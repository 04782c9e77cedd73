"""A server that wants tokens: a page asks for one, keeps it for the tab, sends it with pages and forms."""

import re

import pytest

from service.app import create_app
from service.pages import board
from service.settings import Settings
from service.storage.tokens import Tokens
from tests.pages.entered import BARS, FIRST, does, step
from tests.pages.places import SIX_ROUNDS, press

WANTED = "401 (UNAUTHORIZED)"
BROWSER = {"Accept": "text/html"}


@pytest.fixture(scope="module")
def app(tmp_path_factory):
    folder = tmp_path_factory.mktemp("kept")
    references = tmp_path_factory.getbasetemp() / "references"
    url = f"sqlite:///{folder}/kept.sqlite3"
    app = create_app(Settings(database=url, references=references, tokens="required"))
    yield app
    app.close()
    app.database.close()


@pytest.fixture(scope="module")
def token(app):
    return Tokens(app.database).add("pages", owner="somebody", may="write", days=1)


def test_a_page_asks_for_the_token_and_shows_nothing_else(client):
    answer = client.get("/kept", headers=BROWSER)
    assert (answer.status_code, answer.mimetype) == (401, "text/html")
    assert answer.headers["WWW-Authenticate"] == 'Bearer realm="aerial-assay"'
    text = answer.get_data(as_text=True)
    assert "Your token" in text
    assert "The pages of this server need JavaScript" in text


def test_asking_for_pages_without_a_token_shuts_nobody_out(client, token):
    assert {client.get("/", headers=BROWSER).status_code for _ in range(12)} == {401}
    told = client.get("/", headers=BROWSER | {"Authorization": f"Bearer {token}"})
    assert told.status_code == 200


def test_what_holds_nothing_of_anybody_wants_no_token(client):
    assert client.get("/how-often-wrong").status_code == 200
    assert client.get("/favicon.ico").status_code == 200


def test_a_token_that_may_read_is_judged_and_planned_for_and_keeps_nothing(app, client):
    token = Tokens(app.database).add("reader", owner="reader", may="read", days=1)
    reader = BROWSER | {"Authorization": f"Bearer {token}"}
    asked = {"table": SIX_ROUNDS, "unit": "bars", "highest": "10"}
    assert client.post("/verdict", data=asked | {"form": "markdown"}, headers=reader).status_code == 200
    for path in ("/kept", "/kept/from-readings"):
        answer = client.post(path, data=asked, headers=reader)
        assert (answer.status_code, answer.mimetype) == (403, "text/html")


def test_what_one_owner_keeps_is_not_there_for_another(app, client, token):
    one = BROWSER | {"Authorization": f"Bearer {token}"}
    other_token = Tokens(app.database).add("other", owner="another", may="write", days=1)
    other = BROWSER | {"Authorization": f"Bearer {other_token}"}
    path = client.post("/kept", data={"unit": "dB", "title": "Mine alone"}, headers=one).location
    assert client.get(path, headers=one).status_code == 200
    for asked in (path, f"{path}/report", f"/plan?continues={path}"):
        assert client.get(asked, headers=other).status_code == 404
    for action in ("readings", "strike", "withdraw", "verdict"):
        data = {"table": SIX_ROUNDS, "strike_reason": "x", "withdraw_reason": "x", "batch": "1"}
        assert client.post(f"{path}/{action}", data=data, headers=other).status_code == 404
    assert "Mine alone" not in client.get("/kept", headers=other).get_data(as_text=True)


def test_with_a_token_the_tab_goes_from_page_to_page_and_sends_forms(look, token):
    page = look("/kept", expects=(WANTED,))
    page.get_by_label("Your token").fill("aa_" + "0" * 64)
    press(page, "Open the page")
    page.get_by_text("That token is not known here").wait_for()
    page.get_by_label("Your token").fill(token)
    press(page, "Open the page")
    page.get_by_role("heading", name="Kept trials").wait_for()
    assert page.evaluate("document.activeElement.id") == "main"
    page.get_by_role("link", name="Judge readings").click()
    page.locator("#table").fill(SIX_ROUNDS)
    page.select_option("#unit", "bars")
    page.fill("#highest", "10")
    press(page, "Keep them as a trial")
    page.locator(".verdict .statement").wait_for()
    assert "/kept/" in page.url
    with page.expect_download() as got:
        page.get_by_role("link", name="Markdown").click()
    assert "clear winner" in got.value.path().read_text(encoding="utf-8")
    page.go_back()
    page.get_by_role("heading", name="Which element is better").wait_for()
    page.reload()
    page.get_by_role("heading", name="Which element is better").wait_for()
    assert page.context.cookies() == []


@pytest.fixture
def trial(client, token):
    """The path of a new kept trial of the holder of the token."""
    headers = {"Authorization": f"Bearer {token}"}
    made = client.post("/v1/trials", json=BARS, headers=headers)
    assert made.status_code == 201, made.json
    return f"/kept/{made.json['id']}"


def let_in(page, token: str):
    """The page that was asked for, once the token is given."""
    page.get_by_label("Your token").fill(token)
    press(page, "Open the page")
    return page


def held(client, token: str, trial: str) -> list[tuple[object, ...]]:
    """The runs' readings that the trial holds."""
    readings = f"/v1/trials/{trial.rpartition('/')[2]}/readings"
    found = client.get(readings, headers={"Authorization": f"Bearer {token}"}).json["readings"]
    return [(one["element"], one["round"], one["channel"], one.get("value")) for one in found]


def test_a_run_is_entered_and_sent_with_the_token_of_the_tab(look, client, token, trial):
    page = let_in(look(f"{trial}/enter", expects=(WANTED,)), token)
    page.get_by_role("heading", name="Copper tube, round 1").wait_for()
    step(page, 7)
    does(page, "lost")
    does(page, "rest")
    does(page, "send")
    page.get_by_text("Sent as batch 1: Copper tube, round 1, with 2 readings.").wait_for()
    assert held(client, token, trial) == [(FIRST, 1, "Harbour", 7.0), (FIRST, 1, "Quay", None)]
    page.get_by_role("link", name="Enter the next run").click()
    page.get_by_role("heading", name="rod, round 1").wait_for()
    step(page, 4)
    assert page.locator(".walk-count").inner_text() == "2 of 4"
    does(page, "rest")
    does(page, "send")
    page.get_by_text("Sent as batch 2: rod, round 1, with 1 reading.").wait_for()
    page.get_by_role("link", name="To the trial").click()
    page.get_by_text("1 of 6 planned rounds are whole").wait_for()
    assert page.evaluate("localStorage.length") == 0


def test_a_run_whose_token_has_gone_waits_and_goes_out_with_another(look, client, token, trial):
    page = let_in(look(f"{trial}/enter", expects=(WANTED,)), token)
    step(page, 7)
    does(page, "rest")
    page.evaluate("sessionStorage.clear()")
    does(page, "send")
    page.get_by_text("Nothing of this run is kept by the server yet, and nothing is lost here.").wait_for()
    assert held(client, token, trial) == []
    page.reload()
    let_in(page, token)
    page.get_by_text("Found again in this browser: 4 of 4 channels").wait_for()
    does(page, "send")
    page.get_by_text("Sent as batch 1: Copper tube, round 1, with 1 reading.").wait_for()
    assert held(client, token, trial) == [(FIRST, 1, "Harbour", 7.0)]


@pytest.fixture
def eager(monkeypatch):
    """A board that looks at the server several times a second."""
    monkeypatch.setattr(board, "SECONDS", 0.3)


@pytest.mark.usefixtures("eager")
def test_the_board_is_shown_and_kept_fresh_with_the_token_of_the_tab(look, client, token, trial):
    page = let_in(look(trial, expects=(WANTED,)), token)
    page.get_by_role("link", name="Table for a club day").click()
    page.locator(".board-outcome").wait_for()
    assert page.locator(".board-big").first.inner_text() == "Copper tube"
    row = b"element,round,channel,value\ntube,1,Quay,9\n"
    headers = {"Authorization": f"Bearer {token}", "Content-Type": "text/csv"}
    sent = client.post(f"/v1/trials/{trial.rpartition('/')[2]}/readings", data=row, headers=headers)
    assert sent.status_code == 201, sent.json
    page.get_by_text("11 runs to go, 6 minutes each").wait_for()
    assert page.locator(".board-big").first.inner_text() == "rod"
    assert page.locator(".board-told").inner_text() == ""
    page.get_by_role("link", name="The trial", exact=True).click()
    page.get_by_role("heading", name="Put on next").wait_for()


def test_names_are_given_and_a_run_begun_with_the_token_of_the_tab(look, client, token):
    headers = {"Authorization": f"Bearer {token}"}
    made = client.post("/v1/trials", json={"meter": {"unit": "percent"}}, headers=headers).json["id"]
    page = let_in(look(f"/kept/{made}/enter", expects=(WANTED,)), token)
    page.fill("#channels", "Harbour, 22\nQuay, 25")
    page.fill("#elements", "rod A\ntube B")
    press(page, "Keep these names")
    page.locator(".walk-count").get_by_text("1 of 2").wait_for()
    page.get_by_text("Another run", exact=True).click()
    page.locator(".another-run #round").fill("3")
    press(page, "Enter that run")
    page.get_by_role("heading", name=re.compile("round 3$")).wait_for()
    page.locator(".walk-count").get_by_text("1 of 2").wait_for()


def test_entry_and_board_want_a_token_and_are_there_for_their_owner_alone(app, client, token, trial):
    own = BROWSER | {"Authorization": f"Bearer {token}"}
    third = Tokens(app.database).add("stranger", owner="a third", may="write", days=1)
    stranger = BROWSER | {"Authorization": f"Bearer {third}"}
    for path in (f"{trial}/enter", f"{trial}/board", f"{trial}/enter?kept=1"):
        asked = [client.get(path, headers=headers).status_code for headers in (BROWSER, own, stranger)]
        assert asked == [401, 200, 404], path


def test_a_token_that_may_read_sees_the_board_and_enters_nothing(app, client, token, trial):
    reading = Tokens(app.database).add("looker", owner="somebody", may="read", days=1)
    looker = BROWSER | {"Authorization": f"Bearer {reading}"}
    assert client.get(f"{trial}/board", headers=looker).status_code == 200
    entered = {"element": FIRST, "round": "1", "value:Harbour": "5"}
    for path, data in ((f"{trial}/enter", entered), (f"{trial}/names", {"elements": "a"})):
        answer = client.post(path, data=data, headers=looker)
        assert (answer.status_code, answer.mimetype) == (403, "text/html")
    assert held(client, token, trial) == []


def test_another_tab_knows_nothing_of_the_token(look):
    page = look("/kept", expects=(WANTED,))
    assert page.get_by_label("Your token").is_visible()


def test_without_javascript_the_page_says_plainly_what_is_needed(look):
    page = look("/kept", script=False, expects=(WANTED,))
    assert page.get_by_text("The pages of this server need JavaScript").is_visible()
    assert not page.get_by_label("Your token").is_visible()
