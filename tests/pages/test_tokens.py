"""A server that wants tokens: a page asks for one, keeps it for the tab, sends it with pages and forms."""

import pytest

from service.app import create_app
from service.settings import Settings
from service.storage.tokens import Tokens
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


def test_another_tab_knows_nothing_of_the_token(look):
    page = look("/kept", expects=(WANTED,))
    assert page.get_by_label("Your token").is_visible()


def test_without_javascript_the_page_says_plainly_what_is_needed(look):
    page = look("/kept", script=False, expects=(WANTED,))
    assert page.get_by_text("The pages of this server need JavaScript").is_visible()
    assert not page.get_by_label("Your token").is_visible()
