"""The rooms joined: real verdicts over HTTP, from every body to every form."""

import io
import json
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import jsonschema
import pytest

from service.app import create_app
from service.settings import Settings
from service.storage.analysis_rows import find_analysis
from tests.api.kept_requests import faults
from tests.waiting import until

ROOT = Path(__file__).parents[1]
OPENAPI = ROOT / "openapi"
REQUEST = (OPENAPI / "examples" / "verdict-request.json").read_bytes()
WIDE = (OPENAPI / "examples" / "wide.csv").read_bytes()
PATH = "/v1/verdicts"


@pytest.fixture(scope="module")
def settings(tmp_path_factory):
    return Settings(references=tmp_path_factory.mktemp("references"))


@pytest.fixture(scope="module")
def client(settings):
    return create_app(settings).test_client()


@pytest.fixture(scope="module")
def answer(client):
    return client.post(PATH, data=REQUEST, content_type="application/json")


def test_a_json_batch_gets_a_document_of_the_published_schema(answer):
    assert (answer.status_code, answer.content_type) == (200, "application/json")
    schema = json.loads((OPENAPI / "analysis-document.schema.json").read_text(encoding="utf-8"))
    jsonschema.validate(answer.json, schema)
    assert list(answer.json) == list(schema["properties"])
    assert answer.json["verdict"]["statement"]


FORMS = {
    "semicolon.csv": "text/csv",
    "spreadsheet.csv": "text/csv",
    "readings.ndjson": "application/x-ndjson",
    "readings.xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}


@pytest.mark.parametrize("name", FORMS)
@pytest.mark.parametrize("as_form", [False, True])
def test_every_form_of_the_readings_gets_the_same_verdict(client, answer, *, name, as_form):
    body = (OPENAPI / "examples" / name).read_bytes()
    if as_form:
        parts = {
            "readings": (io.BytesIO(body), name, "application/octet-stream"),
            "trial": json.dumps(json.loads(REQUEST)["trial"]),
        }
        told = client.post(PATH, data=parts, content_type="multipart/form-data")
        assert told.json["verdict"] == answer.json["verdict"]
    else:
        told = client.post(PATH + "?unit=dBuV&resolution=0.1&margin=1", data=body, content_type=FORMS[name])
        assert told.json["verdict"]["outcome"] == answer.json["verdict"]["outcome"]
    assert told.json["read_as"]["media_type"] == FORMS[name]


def test_the_impedance_and_the_marks_of_a_table_stand_in_the_query(client):
    body = "channel,a (dBm)\nx,-60\ny,-61"
    query = "?unit=dBuV&impedance_ohm=75"
    told = client.post(PATH + query, data=body, content_type="text/csv").json
    assert told["read_as"]["notes"] == ["dBm was converted to dBuV at 75 ohm: +108.751 dB for every reading"]
    query += "&nothing_found=-,x&not_scanned=x,none"
    told = client.post(PATH + query, data=body, content_type="text/csv").json
    assert [(place["parameter"], place["given"]) for place in told["errors"]] == [
        ("not_scanned", "none"), ("not_scanned", "x"),
    ]  # fmt: skip


def test_the_same_request_gets_the_same_bytes(client, answer, tmp_path):
    assert client.post(PATH, data=REQUEST, content_type="application/json").data == answer.data
    fresh = create_app(Settings(references=tmp_path)).test_client()
    assert fresh.post(PATH, data=REQUEST, content_type="application/json").data == answer.data


def test_references_are_kept_in_the_folder_of_the_settings(client, answer, settings):
    assert answer.status_code == 200
    assert list(settings.references.glob("bell-*.npz"))
    assert client.application.runner.ready()


def test_a_worker_process_answers_the_same_bytes(settings, answer):
    app = create_app(replace(settings, workers=1))
    try:
        again = app.test_client().post(PATH, data=REQUEST, content_type="application/json")
        assert again.data == answer.data
    finally:
        app.runner.close()


def judged(answer) -> dict:
    assert answer.status_code == 200, answer.data
    return {name: answer.json[name] for name in ("elements", "pairs", "verdict")}


def test_a_table_a_form_and_the_query_say_the_same(client):
    trial = {"meter": {"unit": "dBuV", "resolution": 0.1}, "margin": 1.0, "seed": 3}
    query = f"{PATH}?unit=dBuV&resolution=0.1&margin=1&seed=3"
    by_query = judged(client.post(query, data=WIDE, content_type="text/csv"))
    parts = {"readings": (io.BytesIO(WIDE), "w.csv", "text/csv"), "trial": json.dumps(trial)}
    assert judged(client.post(PATH, data=parts, content_type="multipart/form-data")) == by_query
    tabs = WIDE.replace(b",", b"\t")
    assert judged(client.post(query, data=tabs, content_type="text/tab-separated-values")) == by_query


@pytest.mark.parametrize(("form", "start"), [("html", b"<!doctype html"), ("pdf", b"%pdf-")])
def test_a_report_comes_in_its_form_and_repeats_to_the_byte(client, form, start):
    first, second = (
        client.post(f"{PATH}?form={form}&paper=letter", data=REQUEST, content_type="application/json")
        for _ in range(2)
    )
    assert first.status_code == 200
    assert first.data[:15].lower().startswith(start)
    assert first.data == second.data


def test_the_demo_is_judged_and_one_scan_of_it_too(client):
    folder = OPENAPI / "examples"
    for name in ("demo-readings.csv", "demo-one-scan.csv"):
        readings = (io.BytesIO((folder / name).read_bytes()), name, "text/csv")
        parts = {"readings": readings, "trial": (folder / "demo-trial.json").read_text(encoding="utf-8")}
        answer = client.post(PATH, data=parts, content_type="multipart/form-data")
        assert answer.status_code == 200, answer.data
        assert answer.json["verdict"]["statement"]


def test_faults_of_a_trial_in_the_query_are_placed_at_the_parameters(client):
    answer = client.post(f"{PATH}?unit=feet&confidence=95", data=WIDE, content_type="text/csv")
    places = {fault.get("parameter"): fault for fault in faults(answer)}
    assert {"unit", "confidence"} <= places.keys()
    assert "0.95" in places["confidence"]["detail"]
    missing = faults(client.post(PATH, data=WIDE, content_type="text/csv"))
    assert [fault["parameter"] for fault in missing] == ["unit"]


def test_faults_of_a_json_batch_are_placed_by_pointer(client):
    body = {
        "trial": {"meter": {"unit": "feet"}, "colour": "red"},
        "readings": [{"element": "a", "round": 1, "channel": "27", "value": "x"}],
    }
    pointers = {fault["pointer"] for fault in faults(client.post(PATH, json=body))}
    assert {"#/trial/meter/unit", "#/trial/colour", "#/readings/0/value"} <= pointers


@pytest.mark.parametrize("body", [b"", b"{", b"\xff", b"[]", b'{"trial": {}, "trial": {}}', b"[" * 100_000])
def test_a_body_that_is_no_batch_is_a_problem(client, body):
    answer = client.post(PATH, data=body, content_type="application/json")
    assert answer.status_code in {400, 422}
    assert answer.content_type == "application/problem+json"


def test_pango_missing_is_told_with_what_to_install(client, monkeypatch):
    from reports import pdf

    def missing():
        raise pdf.PdfUnavailable(pdf.NO_PANGO)

    monkeypatch.setattr(pdf, "_library", missing)
    answer = client.post(f"{PATH}?form=pdf", data=REQUEST, content_type="application/json")
    assert (answer.status_code, answer.content_type) == (501, "application/problem+json")
    assert "libpango" in answer.json["detail"]


def test_what_has_no_work_yet_loads_neither_the_database_library_nor_those_of_an_analysis():
    code = "import sys; from service.app import create_app; create_app(); print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert {"flask", "service.app"} <= set(done.stdout.split())
    assert not {"sqlalchemy", "pandas", "numpy", "scipy", "matplotlib"} & set(done.stdout.split())


def test_any_wsgi_server_can_take_it():
    code = (
        "from service.wsgi import application\n"
        "answer = application.test_client().get('/readyz')\n"
        "application.runner.close()\n"
        "print(answer.status_code, answer.json['status'])\n"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout == "200 ready\n"


FORKED = (
    "import os, sys, service.wsgi\n"
    "if os.fork():\n"
    "    sys.exit(os.waitstatus_to_exitcode(os.wait()[1]))\n"
    "service.wsgi.application.test_client().get('/healthz')\n"
    "sys.stdin.read()\n"
)


def test_loaded_by_a_server_that_forks_it_takes_up_what_was_left_with_the_first_request(tmp_path):
    left = create_app(Settings(database=f"sqlite:///{tmp_path / 'kept.sqlite3'}"))
    client = left.test_client()
    trial = client.post("/v1/trials", json=json.loads(REQUEST)["trial"]).json["id"]
    client.post(f"/v1/trials/{trial}/readings", json={"readings": json.loads(REQUEST)["readings"]})
    left.kept.line.close()
    asked = client.post(f"/v1/trials/{trial}/analyses", headers={"Prefer": "respond-async"})
    assert (asked.status_code, asked.json["state"]) == (202, "waiting")
    env = os.environ | {"AERIAL_ASSAY_DATABASE": f"sqlite:///{tmp_path / 'kept.sqlite3'}"}
    serving = subprocess.Popen(
        [sys.executable, "-c", FORKED],
        cwd=ROOT,
        env=env,
        stdin=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )

    def state() -> str:
        with left.database.reading() as connection:
            return find_analysis(connection, "", asked.json["id"]).state

    try:
        until(lambda: state() == "done")
    finally:
        _, told = serving.communicate(timeout=60)
        left.close()
        left.database.close()
    assert serving.returncode == 0, told
