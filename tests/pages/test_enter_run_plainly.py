"""A run entered without scripts: one form, faults beside their field; and what a trial lacks first."""

import json
import re

import pytest

from tests.pages.entered import BARS, FIRST, LEVELS, SECOND, cells, entry, new
from tests.pages.looking import LIGHT, OF_COLOURS, too_wide, violations, weight
from tests.pages.places import press

REFUSED = ("422 (UNPROCESSABLE ENTITY)",)
NAMELESS = {"title": "Nameless (invented)", "meter": {"unit": "percent"}}


@pytest.fixture
def kept(client):
    return new(client)


def filled(page, **readings: str) -> None:
    for channel, reading in readings.items():
        page.fill(f"[name='value:{channel}']", reading)


def test_without_javascript_the_run_is_one_form(kept, look):
    page = look(entry(kept), script=False, width=320)
    assert not page.locator(".walk").is_visible()
    filled(page, Harbour="7", Quay="2,5")
    page.select_option("[name='state:Beacon']", "nothing found")
    page.select_option("[name='state:Pier']", "not scanned")
    page.get_by_text("When the run was begun").click()
    page.fill("#at", "2026-05-12T14:05:00+02:00")
    press(page, "Keep this run")
    assert page.get_by_text("Sent as batch 1. The run below is the next one.").is_visible()
    assert page.locator("h1").inner_text() == "rod, round 1"
    assert cells(kept) == [(FIRST, 1, "Harbour", 7.0), (FIRST, 1, "Quay", 2.5), (FIRST, 1, "Beacon", None)]
    assert {one["at"] for one in kept.readings()} == {"2026-05-12T12:05:00Z"}
    assert too_wide(page) <= 0


def test_without_javascript_faults_stand_beside_their_field_and_nothing_is_lost(kept, look):
    page = look(entry(kept), script=False, expects=REFUSED)
    filled(page, Harbour="11", Quay="7/10", Beacon="3")
    page.select_option("[name='state:Beacon']", "not scanned")
    press(page, "Keep this run")
    faults = {
        row.get_attribute("data-channel"): row.locator(".fault").inner_text()
        for row in page.locator(".run-row").all()
    }
    assert faults == {
        "Harbour": "The meter does not show 11. In bars, from 0 to 10.",
        "Quay": "7/10 is no number. Type what the meter shows. In bars, from 0 to 10.",
        "Beacon": "A reading and not scanned cannot both be: empty the field, or choose as typed.",
        "Pier": "Type what the meter shows, or choose nothing found or not scanned.",
    }
    assert "4 channels are to be mended" in page.get_by_role("alert").inner_text()
    assert page.locator("[name='value:Quay']").input_value() == "7/10"
    assert page.locator("[name='state:Beacon']").input_value() == "not scanned"
    assert kept.readings() == []
    filled(page, Harbour="1", Quay="7", Pier="0")
    page.select_option("[name='state:Beacon']", "")
    press(page, "Keep this run")
    assert [value for *_, value in cells(kept)] == [1.0, 7.0, 3.0, 0.0]


def test_anybody_can_use_the_plain_form_where_the_script_does_not_come(kept, look):
    page = look(entry(kept), width=320, expects=("ERR_FAILED", *REFUSED))
    page.route("**/enter-run.js*", lambda route: route.abort())
    page.reload()
    press(page, "Keep this run")
    page.locator(".run-row .fault").first.wait_for()
    assert violations(page) == []
    page.emulate_media(color_scheme="dark")
    assert violations(page, rules=OF_COLOURS) == []


def sent(client, kept, **changed):
    values = {"element": FIRST, "round": "1", "key": kept.path, "at": "2026-05-12T12:05:00Z"}
    values |= {f"value:{name}": "5" for name in ("Harbour", "Quay", "Beacon", "Pier")}
    return client.post(entry(kept), data=values | changed)


def test_the_form_sent_twice_is_kept_once(client, kept):
    first, again = sent(client, kept), sent(client, kept)
    assert (first.status_code, again.status_code) == (303, 303)
    assert first.location == again.location
    assert len(kept.readings()) == 4


def test_the_same_run_under_another_key_is_refused_and_shown_again(client, kept):
    sent(client, kept)
    answer = sent(client, kept, key=f"{kept.path} again")
    text = answer.get_data(as_text=True)
    assert answer.status_code == 422
    assert "batch 1" in text
    assert 'value="5"' in text
    assert len(kept.readings()) == 4


def test_a_time_that_is_none_is_told_and_nothing_is_kept(client, kept):
    answer = sent(client, kept, at="yesterday")
    assert answer.status_code == 422
    assert "yesterday" in answer.get_data(as_text=True)
    assert kept.readings() == []


def test_a_run_that_is_there_already_is_said_to_be_averaged(client, kept):
    sent(client, kept)
    text = client.get(f"{entry(kept)}?element={FIRST}&round=1").get_data(as_text=True)
    assert "There are readings of this run already (4 channels)." in text
    assert "Not the run that comes next." in text
    assert "There are readings" not in client.get(f"{entry(kept)}?element={SECOND}&round=1").get_data(
        as_text=True
    )


@pytest.mark.parametrize("asked", ["element=nobody", f"element={FIRST}&round=0", "round=two"])
def test_a_run_that_cannot_be_is_refused(client, kept, asked):
    answer = client.get(f"{entry(kept)}?{asked}")
    assert answer.status_code == 422
    assert "Choose an element of the trial" in answer.get_data(as_text=True)


def test_asking_for_a_verdict_follows_a_run(client, kept):
    sent(client, kept)
    text = client.get(entry(kept).removesuffix("/enter")).get_data(as_text=True)
    assert "none was asked for yet" not in text


PADS = [
    ({"unit": "bars", "highest": 5}, ["0", "1", "2", "3", "4", "5"], "none"),
    ({"unit": "bars", "lowest": 1, "highest": 3, "resolution": 0.5}, ["1", "1.5", "2", "2.5", "3"], "none"),
    ({"unit": "bars", "highest": 40}, [], "decimal"),
    ({"unit": "bars"}, [], "decimal"),
    ({"unit": "percent"}, [], "decimal"),
]


@pytest.mark.parametrize(("meter", "steps", "keyboard"), PADS)
def test_the_pad_suits_the_meter(client, meter, steps, keyboard):
    text = client.get(entry(new(client, {**BARS, "meter": meter}))).get_data(as_text=True)
    assert re.findall(r'data-step="([^"]+)"', text) == steps
    assert f'class="walk-value" type="text" inputmode="{keyboard}"' in text
    assert 'data-does="minus"' not in text
    assert 'data-does="minus"' in client.get(entry(new(client, LEVELS))).get_data(as_text=True)


def test_a_trial_without_names_asks_for_them_first(client, look):
    kept = new(client, NAMELESS)
    page = look(entry(kept), script=False, width=320)
    page.get_by_role("link", name=re.compile("Begin with the RF channels of: Europe")).click()
    assert page.locator("#channels").input_value().splitlines()[:2] == ["RF 5, 5", "RF 6, 6"]
    page.fill("#channels", "Harbour, 22\nQuay, 25")
    page.fill("#elements", "rod A, brass\ntube B")
    press(page, "Keep these names")
    assert page.locator(".row-name").all_inner_texts() == ["Harbour", "Quay"]
    assert page.locator(".row-signal").all_inner_texts() == ["RF channel 22", "RF channel 25"]
    document = kept.get().json
    assert document["elements"] == [{"id": "rod A", "material": "brass"}, {"id": "tube B"}]
    assert document["channels"] == [{"id": "Harbour", "rf_channel": "22"}, {"id": "Quay", "rf_channel": "25"}]
    assert too_wide(page) <= 0


def test_names_that_are_refused_are_shown_again(client, look):
    page = look(entry(new(client, NAMELESS)), expects=REFUSED)
    assert violations(page) == []
    page.fill("#channels", "Harbour\nHarbour")
    page.fill("#elements", "rod A")
    press(page, "Keep these names")
    assert page.get_by_role("alert").is_visible()
    assert page.locator("#channels").input_value() == "Harbour\nHarbour"
    assert violations(page) == []


def test_a_trial_that_lacks_channels_alone_keeps_its_elements(client):
    kept = new(client, {**BARS, "channels": []})
    text = client.get(entry(kept)).get_data(as_text=True)
    assert 'id="channels"' in text
    assert 'id="elements"' not in text
    answer = client.post(
        entry(kept).replace("enter", "names"), data={"channels": "Mole", "elements": "other"}
    )
    assert answer.status_code == 303
    assert kept.get().json["elements"] == BARS["elements"]


def test_readings_that_came_by_file_name_channels_too(client):
    kept = new(client, {"meter": {"unit": "bars", "highest": 10}})
    kept.sent()
    text = client.get(entry(kept)).get_data(as_text=True)
    assert re.findall(r'data-channel="([^"]+)"', text) == ["Harbour", "Quay"]
    assert re.search(r"<h1>[ab], round 2</h1>", text)


def test_names_cannot_break_out_of_the_page(client):
    nasty = '"><script>alert(1)</script>'
    kept = new(client, {**BARS, "channels": [{"id": nasty}], "elements": [{"id": nasty}]})
    text = client.get(entry(kept)).get_data(as_text=True)
    assert "<script>alert" not in text
    values = {"element": nasty, "round": "1", f"value:{nasty}": "4"}
    assert client.post(entry(kept), data=values).status_code == 303
    assert cells(kept) == [(nasty, 1, nasty, 4.0)]


def test_the_longest_list_of_channels_still_gives_a_light_page(client, look):
    channels = [{"id": f"Channel {number}", "rf_channel": str(number)} for number in range(2000)]
    kept = new(client, {**BARS, "channels": channels})
    page = look(entry(kept))
    assert page.locator(".walk-count").inner_text() == "1 of 2000"
    assert weight(page) < LIGHT
    values = {"element": FIRST, "round": "1"} | {f"value:{one['id']}": "5" for one in channels}
    assert client.post(entry(kept), data=values).status_code == 303
    assert json.loads(kept.get("/readings?limit=1").data)["readings"][0]["value"] == 5
