"""Pages in another language: an invented one, in which a word that was not translated stands out."""

import re
from html.parser import HTMLParser

import pytest

from reports.locales import DEFAULT, LOCALES, spoken
from service.api.problems import KINDS
from service.app import create_app
from service.pages.enter_names import PLANS
from service.pages.troubles import TITLES
from service.radio.channel_plan import REGIONS, channel_plan
from service.settings import Settings
from tests.languages.conftest import catalogue  # noqa: F401 (a fixture)
from tests.languages.invented import LANGUAGE, plain_words
from tests.pages.entered import BARS, CHANNELS, does, new, step
from tests.pages.places import METER, SIX_ROUNDS

BROWSER = {"Accept": "text/html"}
NAMES = {
    *("Aerial", "Assay", "JSON", "NDJSON", "UTC", "JUnit", "MHz"),
    *("brass", "rod", "copper", "tube", "steel", "wire", "zinc", "strip", *CHANNELS),
    *re.findall(r"^(\w+),", SIX_ROUNDS, flags=re.MULTILINE),
}
"""Names of the product, of formats and units, and those that the trial gives itself."""
READ_OUT = {
    "aria-label",
    "alt",
    "title",
    "data-text",
    "data-lost",
    "data-given-up",
    "data-no-answer",
    "data-refused",
}


class Reader(HTMLParser):
    """Gathers what a reader gets to see or hear: texts, some attributes, what scripts will say. No code."""

    def __init__(self):
        super().__init__()
        self.texts: list[str] = []
        self._within = 0

    def handle_starttag(self, tag, attrs):
        self._within += tag in {"code", "textarea"}
        said = READ_OUT | ({"value"} if tag == "data" else set())
        self.texts += [value or "" for name, value in attrs if name in said]

    def handle_endtag(self, tag):
        self._within -= tag in {"code", "textarea"}

    def handle_data(self, data):
        if not self._within and data.strip():
            self.texts.append(data.strip())


def untranslated(answer) -> list[str]:
    """The texts of a page in which a word lacks its accents; places for a script to fill are none."""
    text = answer.get_data(as_text=True)
    assert f'<html lang="{LANGUAGE}">' in text
    reader = Reader()
    reader.feed(text)
    return [one for one in reader.texts if {*plain_words(re.sub(r"\{\w+\}", "", one))} - NAMES]


@pytest.fixture(scope="module")
def app(tmp_path_factory, catalogue):  # noqa: F811 (the fixture)
    from reports import language, locales
    from tests.languages import invented

    folder = tmp_path_factory.mktemp("kept")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(language, "CATALOGUES", catalogue)
        patch.setattr(locales, "LOCALES", {**LOCALES, invented.NAME: invented.LOCALE})
        url = f"sqlite:///{folder / 'kept.sqlite3'}"
        app = create_app(Settings(database=url, references=folder, locale=invented.NAME))
        yield app
        app.close()
        app.database.close()


@pytest.fixture(scope="module")
def trial(client):
    """The path of a kept trial with its verdict."""
    path = client.post("/kept/from-readings", data={"table": SIX_ROUNDS, **METER}).location
    assert client.post(f"{path}/verdict").status_code == 303
    return path


PAGES = ("/", "/?example=one-scan", "/kept", "/kept/new", "/plan", "/check", "/nowhere")


@pytest.mark.parametrize("path", PAGES)
def test_every_word_of_a_page_is_said(client, path):
    assert untranslated(client.get(path, headers=BROWSER)) == []


def test_every_word_of_the_pages_of_a_trial_is_said(client, trial):
    for page in ("board", "enter", "enter?kept=1&element=brass rod&round=1"):
        assert untranslated(client.get(f"{trial}/{page}")) == [], page
    empty = new(client, {"meter": BARS["meter"]}).path.rpartition("/")[2]
    for page in ("", "/board", "/enter?region=europe"):
        assert untranslated(client.get(f"/kept/{empty}{page}")) == [], page


def test_faults_that_the_pages_find_are_said(client, trial):
    assert untranslated(client.post("/verdict", data={"table": SIX_ROUNDS})) == []
    wrong = {f"value:{name}": "x" for name in ("Harbour", "Quay")} | {"value:Beacon": "99"}
    answer = client.post(f"{trial}/enter", data=wrong)
    assert answer.status_code == 422
    assert untranslated(answer) == []


def test_a_plan_and_a_check_are_told_in_the_language(client):
    asked = {"elements": "rod\ntube\nwire", "minutes_per_run": "6", "minutes_available": "110", **METER}
    plan = client.post("/plan", data=asked).get_data(as_text=True)
    assert plain_words(re.search(r'class="statement">([^<]+)<', plan)[1]) == []
    table = {"table": SIX_ROUNDS, "baseline": "brass rod", "candidates": "copper tube", **METER}
    check = client.post("/check", data=table).get_data(as_text=True)
    assert set(plain_words(re.search(r'class="statement">([^<]+)<', check)[1])) <= NAMES


def test_documents_for_programs_stay_as_they_are_everywhere(client, trial):
    asked = {"table": SIX_ROUNDS, "form": "json", **METER}
    assert "is the best of the 4 elements" in client.post("/verdict", data=asked).json["verdict"]["statement"]
    kept = client.get(f"{trial}/report?form=json").json
    assert "is the best of the 4 elements" in kept["verdict"]["statement"]
    check = asked | {"baseline": "brass rod", "candidates": "copper tube"}
    assert "is not worse than" in client.post("/check", data=check).json["statement"]
    plan = {"elements": "a\nb", "minutes_per_run": "6", "minutes_available": "110", "form": "json", **METER}
    assert "rounds of 2 elements" in client.post("/plan", data=plan).json["statement"]
    assert client.get("/v1/nowhere", headers=BROWSER).json["title"] == "Not found"


def test_the_language_ends_with_the_answer(client):
    for path in ("/", "/nowhere"):
        client.get(path, headers=BROWSER)
        assert spoken() is LOCALES[DEFAULT]


def test_what_scripts_say_is_said_in_the_language_too(client, look):
    page = look(f"/kept/{new(client).path.rpartition('/')[2]}/enter")
    assert page.locator(".walk-count").inner_text() == "1 óf 4"
    step(page, 7)
    page.keyboard.type("99")
    page.keyboard.press("Enter")
    assert page.locator(".walk-fault").inner_text().startswith("99 wás nót tákén. Ín bárs")
    does(page, "lost")
    does(page, "rest")
    page.reload()
    assert page.locator(".run-told").inner_text().startswith("Fóúnd ágáín ín thís brówsér: 4 óf 4")
    assert page.locator(".walk-read").all_inner_texts() == [
        "7",
        "nóthíng fóúnd",
        "nót scánnéd",
        "nót scánnéd",
    ]
    does(page, "send")
    page.get_by_text("Sént ás bátch 1: Copper tube, róúnd 1, wíth 2 réádíngs.").wait_for()
    page.get_by_role("link", name="Éntér thé néxt rún").click()
    page.get_by_role("heading", name="rod, róúnd 1").wait_for()


def test_the_titles_of_errors_are_those_that_programs_are_told():
    assert {status: kind.title for status, kind in KINDS.items()} == TITLES


def test_the_titles_of_channel_plans_are_their_own():
    assert {region: channel_plan(region).title for region in REGIONS} == PLANS
