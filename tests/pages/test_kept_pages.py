"""Kept trials through their pages: fed, mended, refused with nothing lost, and reported on."""

import io
import json
import re
from datetime import UTC, datetime

import pytest

from service.jobs.kept_analyses import KeptAnalyses
from service.pages import verdict_so_far
from service.storage.analysis_rows import KeptAnalysis
from tests.api.kept_requests import rows
from tests.pages.forms import NEW, new, sent, text_of
from tests.pages.places import METER, SIX_ROUNDS, kept
from tests.waiting import until


@pytest.fixture(scope="module")
def whole(client):
    """The path of a trial of six rounds that nobody changes."""
    return kept(client)


def test_a_new_trial_says_what_to_put_on_first(client):
    page = client.get(new(client))
    assert "Invented" in text_of(page)
    assert "Round 1, run 1 of 3" in text_of(page)
    assert "No readings have come yet." in text_of(page)
    assert "The next look comes after 3 whole rounds" in text_of(page)


def test_a_new_trial_that_names_nothing_takes_its_names_from_the_readings(client):
    path = new(client, elements="", channels="")
    assert "Put on next" not in text_of(client.get(path))
    assert sent(client, path, rows("ab")).status_code == 303
    assert "Put on next" in text_of(client.get(path))


def test_faults_of_a_new_trial_are_told_and_what_was_filled_in_stays(client):
    answer = client.post("/kept", data=NEW | {"margin": "much", "elements": "a, unobtainium"})
    assert answer.status_code == 422
    assert "Smallest difference you would act on" in text_of(answer)
    assert 'value="much"' in answer.get_data(as_text=True)
    assert "a, unobtainium" in answer.get_data(as_text=True)


def test_a_batch_leads_to_the_verdict(client):
    path = new(client)
    answer = sent(client, path, rows("abc", rounds=range(1, 4)))
    assert (answer.status_code, answer.location) == (303, path)
    page = text_of(client.get(path))
    assert "3 of 6 planned rounds are whole" in page
    assert "Outcome" in page
    assert "Round by round" in page


def test_sending_the_same_form_twice_keeps_it_once(client):
    path = new(client)
    for _ in range(2):
        assert sent(client, path, rows("abc"), key="the key of this form").status_code == 303
    assert "3 runs of 3 elements" in text_of(client.get(path))


def test_a_batch_with_faults_keeps_nothing_and_loses_nothing(client):
    path = new(client)
    table = rows("abc").decode().replace(",5", ",50", 1)
    answer = sent(client, path, table)
    assert answer.status_code == 422
    assert "Line 2" in text_of(answer)
    assert table.splitlines()[1] in answer.get_data(as_text=True)
    assert "0 runs of 0 elements" in text_of(client.get(path))


def test_readings_that_are_there_already_may_be_put_right_with_a_reason(client):
    path = new(client)
    sent(client, path, rows("abc"))
    refused = text_of(sent(client, path, rows("abc", value=6)))
    assert "say under the table why these put it right" in refused
    assert "take batch 1 back under “Mend”" in refused
    assert "corrects=" not in refused
    assert sent(client, path, rows("abc", value=6), corrects="read off the wrong line").status_code == 303
    assert "read off the wrong line" in text_of(client.get(path))


def test_a_file_is_taken_as_well(client):
    path = new(client)
    data = {"readings": (io.BytesIO(rows("abc")), "readings.csv")}
    assert client.post(f"{path}/readings", data=data).status_code == 303


def test_a_run_is_struck_with_its_reason(client):
    path = new(client)
    sent(client, path, rows("abc", rounds=range(1, 4)))
    version = re.search(r'name="version" value="(\d+)"', client.get(path).get_data(as_text=True))[1]
    strike = {"element": "b", "round": "2", "version": version}
    refused = client.post(f"{path}/strike", data=strike | {"strike_reason": " "})
    assert refused.status_code == 422
    assert "Say why" in text_of(refused)
    assert client.post(f"{path}/strike", data=strike | {"strike_reason": "mast turned"}).status_code == 303
    assert "mast turned" in text_of(client.get(path))
    stale = client.post(f"{path}/strike", data=strike | {"strike_reason": "again", "round": "3"})
    assert stale.status_code == 412
    assert "has changed since" in text_of(stale)
    assert 'value="again"' in stale.get_data(as_text=True)


def test_a_round_that_is_no_number_is_told(client, whole):
    answer = client.post(f"{whole}/strike", data={"element": "x", "round": "two", "strike_reason": "why"})
    assert answer.status_code == 422
    assert "Struck runs, line 1, round" in text_of(answer)


def test_a_batch_is_taken_back_with_its_reason(client):
    path = new(client)
    sent(client, path, rows("abc"))
    assert client.post(f"{path}/withdraw", data={"batch": "1"}).status_code == 422
    assert client.post(f"{path}/withdraw", data={"batch": "x", "withdraw_reason": "y"}).status_code == 422
    answer = client.post(f"{path}/withdraw", data={"batch": "1", "withdraw_reason": "another trial's"})
    assert answer.status_code == 303
    assert "No readings have come yet." in text_of(client.get(path))


def test_the_report_is_had_in_every_form(client, whole):
    page = client.get(whole).get_data(as_text=True)
    forms = re.findall(r"/report\?form=([\w+]+)", page)
    assert {"pdf", "html", "card", "card+square", "summary", "csv", "markdown", "json", "junit"} == set(forms)
    assert client.get(f"{whole}/report?form=json").json["format"] == "analysis/1"
    assert "clear winner" in client.get(f"{whole}/report?form=markdown").get_data(as_text=True)
    square, wide = (client.get(f"{whole}/report?form={form}").data for form in ("card+square", "card"))
    assert square[:4] == wide[:4] == b"\x89PNG"
    assert square != wide
    unknown = client.get(f"{whole}/report?form=scroll")
    assert (unknown.status_code, unknown.mimetype) == (406, "text/html")


def test_every_link_of_a_trial_leads_somewhere(client, whole):
    page = client.get(whole).get_data(as_text=True)
    links = {link for link in re.findall(r'href="(/[^"]*)"', page) if "/report" not in link}
    assert len(links) > 8
    assert {link: client.get(link).status_code for link in links} == dict.fromkeys(links, 200)


def test_without_a_verdict_there_is_no_report(client):
    answer = client.get(f"{new(client)}/report?form=pdf")
    assert answer.status_code == 409
    assert "No verdict has been reached" in text_of(answer)


def test_what_to_put_on_next_stands_before_an_open_verdict_and_behind_a_settled_one(client, whole):
    path = new(client)
    sent(client, path, rows("abc", rounds=(1, 2)))
    still_open, settled = text_of(client.get(path)), text_of(client.get(whole))
    assert "needs more runs" in still_open
    assert still_open.index("Put on next") < still_open.index("The answer")
    assert settled.index("The answer") < settled.index("clear winner") < settled.index("Put on next")
    assert settled.count("Put on next") == still_open.count("Put on next") == 1


def test_a_verdict_that_was_not_asked_for_is_had_by_a_press(client):
    path = new(client)
    body = rows("abc", rounds=range(1, 4))
    assert (
        client.post(
            f"/v1/trials/{path.rpartition('/')[2]}/readings", data=body, content_type="text/csv"
        ).status_code
        == 201
    )
    assert "Reach the verdict" in text_of(client.get(path))
    assert client.post(f"{path}/verdict").status_code == 303
    assert "Outcome" in text_of(client.get(path))


def test_a_verdict_on_earlier_readings_is_not_shown_as_the_present_one(client):
    path = new(client)
    sent(client, path, rows("abc", rounds=range(1, 4)))
    body = rows("abc", rounds=(4,))
    readings = f"/v1/trials/{path.rpartition('/')[2]}/readings"
    assert client.post(readings, data=body, content_type="text/csv").status_code == 201
    page = text_of(client.get(path))
    assert "The readings have changed since the last verdict" in page
    assert "Outcome" not in page


def test_the_form_of_a_new_trial(client):
    assert "Elements, one a line" in text_of(client.get("/kept/new"))


def test_why_there_is_no_verdict_is_told(client):
    path = new(client, reference="nobody")
    sent(client, path, rows("abc"))
    page = text_of(client.get(path))
    assert "No verdict can be reached on this trial as it is" in page
    assert "nobody" in page
    mended = {"reference": "a", "reason": "a slip of the pen"}
    route = f"/v1/trials/{path.rpartition('/')[2]}"
    assert client.patch(route, json=mended, headers={"If-Match": "*"}).status_code == 200
    page = text_of(client.get(path))
    assert "No verdict can be reached" not in page
    assert "Reach the verdict" in page


def test_a_verdict_on_its_way_is_said_to_be(client, monkeypatch):
    path = new(client)
    sent(client, path, rows("abc"))
    now = datetime.now(UTC).isoformat()
    under_way = KeptAnalysis(
        *("1", path.rpartition("/")[2], "", 2, 1, "running", "analysing", now, now),
        *(None, None, None, None, False),
    )
    monkeypatch.setattr(KeptAnalyses, "newest", lambda *_: None)
    monkeypatch.setattr(KeptAnalyses, "page", lambda *_, **__: [under_way])
    monkeypatch.setattr(KeptAnalyses, "get", lambda *_: None)
    page = client.get(path).get_data(as_text=True)
    assert "The verdict is being worked out: analysing." in page
    assert 'data-watched="/v1/analyses/1"' in page


def test_nobody_waits_for_a_verdict_that_takes_too_long(client, monkeypatch, held_back):
    monkeypatch.setattr(verdict_so_far, "PATIENCE", 0.2)
    path = new(client)
    assert sent(client, path, rows("abc")).status_code == 303
    assert "The verdict is being worked out" in text_of(client.get(path))
    held_back.set()
    until(lambda: "Outcome" in text_of(client.get(path)))


def test_a_trial_that_is_not_there_is_a_page_of_its_own(client):
    for path in ("/kept/0", "/kept/0/report"):
        answer = client.get(path, headers={"Accept": "text/html"})
        assert (answer.status_code, answer.mimetype) == (404, "text/html")
    assert sent(client, "/kept/0", rows("ab")).status_code == 404


def test_readings_that_were_just_judged_are_kept_whole_or_not_at_all(client):
    before = client.get("/v1/trials").json["trials"]
    answer = client.post("/kept/from-readings", data={"table": SIX_ROUNDS, "unit": "bars", "highest": "7"})
    assert answer.status_code == 422
    assert "Outside the scale" in text_of(answer)
    assert client.post("/kept/from-readings", data=METER).status_code == 422
    assert client.get("/v1/trials").json["trials"] == before


def test_a_json_file_with_its_trial_is_kept_as_it_is(client):
    trial = {"meter": {"unit": "dB"}, "title": "Out of a file"}
    readings = [{"element": e, "round": 1, "channel": "Quay", "value": 20} for e in "ab"]
    data = {
        "readings": (io.BytesIO(json.dumps({"trial": trial, "readings": readings}).encode()), "trial.json")
    }
    answer = client.post("/kept/from-readings", data=data)
    assert answer.status_code == 303
    assert "Out of a file" in text_of(client.get(answer.location))


def test_older_trials_are_a_page_on(client):
    for number in range(27):
        new(client, title=f"Trial number {number}")
    first = client.get("/kept").get_data(as_text=True)
    after = re.search(r'name="after" value="([^"]+)"', first)[1]
    second = client.get("/kept", query_string={"after": after}).get_data(as_text=True)
    both = [set(re.findall(r'href="(/kept/\w{10,})"', page)) for page in (first, second)]
    assert len(both[0]) == 25
    assert both[1]
    assert both[0].isdisjoint(both[1])
