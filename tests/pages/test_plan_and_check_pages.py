"""Plans and design checks through their pages: new trials, kept ones, readings carried along; every form."""

import hashlib
import io
import json
from dataclasses import replace

from service.jobs.kept_trials import KeptTrials
from service.pages.sent import Sent
from tests.api.kept_requests import rows
from tests.pages.forms import new, sent, text_of
from tests.pages.places import METER, SIX_ROUNDS, kept

TIME = {"minutes_per_run": "6", "minutes_available": "110"}
ASKED = {"elements": "rod\ntube\nwire", "channels": "Harbour, 22\nQuay, 25", **METER, **TIME}
TABLE = {"table": SIX_ROUNDS, "baseline": "brass rod", "candidates": "copper tube", **METER}


def carried(body: bytes = SIX_ROUNDS.encode(), name: str = "six.csv") -> dict[str, str]:
    return {field.name: field.value for field in Sent(name, "text/csv", body).carried()}


def test_a_plan_of_a_new_trial(client):
    answer = client.post("/plan", data=ASKED)
    page = text_of(answer)
    assert answer.status_code == 200
    assert "6 rounds of 3 elements: 18 runs" in page
    assert "What to put on, round by round" in page
    assert "Before anybody goes up" in page
    assert "Keep this as a trial" in page


def test_a_page_names_no_fields_of_the_document_and_the_document_does(client):
    """The fields of the trial's document, which the form of the page has not."""
    fields = ("twin_of", "pad_of", "pad_db", "known_repeatability", "planned_rounds to", "fill in rf_channel")
    asked = ASKED | {"planned_rounds": "9", "channels": "Harbour 1\nQuay, 25"}
    messages = str(client.post("/plan", data=asked | {"form": "json"}).json["cautions"])
    assert [field for field in fields if field not in messages] == []
    page = text_of(client.post("/plan", data=asked))
    assert "a spare copy of one element, which must come out the same" in page
    assert [field for field in fields if field in page] == []


def test_a_plan_comes_in_every_form(client):
    begins = {
        "pdf": b"%PDF",
        "html": b"<!DOCTYPE",
        "xlsx": b"PK",
        "csv": b"\xef\xbb\xbfchannel,",
        "json": b"{",
        "text": b"6 rounds of 3 elements",
    }
    for form, beginning in begins.items():
        answer = client.post("/plan", data=ASKED | {"form": form})
        assert answer.status_code == 200, form
        assert answer.data.startswith(beginning), form
    refused = client.post("/plan", data=ASKED | {"form": "scroll"})
    assert refused.status_code == 406
    assert "There is no form" in text_of(refused)


def test_faults_of_a_plan_are_placed_and_what_was_filled_in_stays(client):
    answer = client.post("/plan", data=ASKED | {"minutes_available": "soon", "elements": "rod, brass, knot"})
    assert answer.status_code == 422
    page = text_of(answer)
    assert "Minutes you have in all" in page
    assert "Elements, line 1, form" in page
    assert 'value="soon"' in answer.get_data(as_text=True)
    assert "rod, brass, knot" in answer.get_data(as_text=True)


def test_a_plan_goes_on_with_a_kept_trial(client):
    path = new(client)
    sent(client, path, rows("abc", rounds=(1, 2)))
    form = client.get("/plan", query_string={"continues": path})
    assert "goes on with the kept trial “Invented”" in text_of(form)
    answer = client.post("/plan", data=TIME | {"continues": path.rpartition("/")[2]})
    assert "4 more rounds of 3 elements" in text_of(answer)
    assert "Keep this as a trial" not in text_of(answer)
    assert client.get("/plan?continues=0").status_code == 404


def test_a_plan_goes_on_with_readings_that_were_judged(client):
    form = client.post("/plan/continued", data=carried() | METER | {"planned_rounds": "9"})
    assert "goes on with the readings of six.csv" in text_of(form)
    answer = client.post("/plan", data=carried() | METER | TIME | {"planned_rounds": "9"})
    assert "3 more rounds of 4 elements" in text_of(answer)
    assert client.post("/plan/continued", data=METER).status_code == 422


def test_a_plan_goes_on_with_a_json_file_and_its_trial(client):
    readings = [
        {"element": e, "round": r, "channel": "Quay", "value": 20 + r % 2} for e in "ab" for r in (1, 2)
    ]
    trial = {"meter": {"unit": "dB"}, "planned_rounds": 5}
    body = json.dumps({"trial": trial, "readings": readings}).encode()
    answer = client.post("/plan", data=carried(body, "both.json") | TIME)
    assert "3 more rounds of 2 elements" in text_of(answer)


def test_a_check_on_a_table(client):
    answer = client.post("/check", data=TABLE)
    assert answer.status_code == 200
    assert "Outcome holds" in text_of(answer)
    for form, beginning in {"pdf": b"%PDF", "json": b"{", "junit": b"<?xml", "markdown": b"#"}.items():
        assert client.post("/check", data=TABLE | {"form": form}).data.startswith(beginning), form
    assert client.post("/check", data=TABLE | {"form": "scroll"}).status_code == 406


def test_faults_of_a_check_are_placed_and_the_table_stays(client):
    answer = client.post("/check", data=TABLE | {"candidates": ""})
    assert answer.status_code == 422
    assert "The new design" in text_of(answer)
    assert "Slipway,33" in answer.get_data(as_text=True)
    file = {"readings": (io.BytesIO(b"x"), "a.ods")}
    assert client.post("/check", data=METER | file).status_code == 415


def test_a_check_on_kept_trials(client):
    old, now = (kept(client, title=title).rpartition("/")[2] for title in ("Spring", "Autumn"))
    form = client.get("/check").get_data(as_text=True)
    assert f'value="{old}"' in form
    asked = {"old_trial": old, "old_element": "brass rod", "new_trial": now, "new_element": "copper tube"}
    answer = client.post("/check/kept", data=asked | {"between": "steel wire", "kept_margin": "0,5"})
    assert answer.status_code == 200, text_of(answer)
    assert "Outcome" in text_of(answer)
    same = client.post("/check/kept", data=asked | {"new_trial": old, "form": "json"})
    assert same.json["checks"][0]["outcome"] == "holds"
    refused = client.post("/check/kept", data=asked | {"kept_margin": "little"})
    assert refused.status_code == 422
    assert 'value="little"' in refused.get_data(as_text=True)


def test_where_nothing_is_kept_a_check_asks_for_a_table_alone(app, client, monkeypatch):
    unused = replace(app.kept, in_use=lambda: False)
    monkeypatch.setitem(app.extensions, "aerial_assay_kept_desks", unused)
    assert "On kept trials" not in text_of(client.get("/check"))
    monkeypatch.undo()
    monkeypatch.setattr(KeptTrials, "page", lambda *_, **__: [])
    assert "On kept trials" not in text_of(client.get("/check"))


def level(*named: object) -> str:
    """A level that looks like noise, so that it cannot be packed small."""
    digest = hashlib.sha256(repr(named).encode()).hexdigest()
    return f"{int(digest[:8], 16) / 2**32 * 40:.8f}"


def test_readings_too_many_to_take_along_are_said_to_be(client):
    lines = [
        f"{element},{number},c{place},{level(element, number, place)}"
        for element in "ab"
        for number in range(1, 4)
        for place in range(700)
    ]
    table = "\n".join(["element,round,channel,value", *lines])
    answer = client.post("/verdict", data={"table": table, "unit": "dB"})
    assert answer.status_code == 200
    assert "too many to be taken along" in text_of(answer)
    assert "Keep this as a trial" not in text_of(answer)
    told = client.post("/verdict", data={"table": table, "unit": "dB", "form": "markdown"})
    assert told.mimetype == "text/markdown"
