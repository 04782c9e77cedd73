"""Bodies: JSON, tables, forms; limits and media types."""

import io
import json

import pytest

CSV = b"element,round,channel,value\na,1,27,5\n"
TRIAL = {"meter": {"unit": "bars"}}
PATH = "/v1/verdicts"


def form(client, parts: dict, query: str = ""):
    return client.post(PATH + query, data=parts, content_type="multipart/form-data")


def file(content: bytes = CSV, name: str = "r.csv", media_type: str = "text/csv"):
    return (io.BytesIO(content), name, media_type)


def test_a_json_body_is_handed_on_untouched(client, desk):
    body = b'{"trial": {"meter": {"unit": "bars"}}, "readings": []}'
    assert client.post(PATH, data=body, content_type="application/json; charset=utf-8").status_code == 200
    (batch,) = desk.batches
    assert (batch.body, batch.media_type, batch.trial) == (body, "application/json", None)


@pytest.mark.parametrize("media_type", ["text/csv", "text/tab-separated-values"])
def test_a_table_takes_its_trial_and_marks_from_the_query(client, desk, media_type):
    query = "?unit=bars&highest=10&nothing_found=-&not_scanned=x,y"
    assert client.post(PATH + query, data=CSV, content_type=media_type).status_code == 200
    (batch,) = desk.batches
    assert (batch.body, batch.media_type) == (CSV, media_type)
    assert batch.trial == {"meter": {"unit": "bars", "highest": 10.0}}
    assert (batch.nothing_found, batch.not_scanned) == (("-",), ("x", "y"))


def test_a_json_body_refuses_to_be_told_its_trial_twice(client, desk):
    answer = client.post(PATH + "?unit=bars&margin=1&nothing_found=-&form=json", json={})
    assert answer.status_code == 422
    assert {place["parameter"] for place in answer.json["errors"]} == {"unit", "margin", "nothing_found"}
    assert desk.batches == []


@pytest.mark.parametrize("as_file", [True, False])
def test_a_form_brings_table_and_trial(client, desk, as_file):
    text = json.dumps(TRIAL)
    trial = file(text.encode(), "trial.json", "application/json") if as_file else text
    assert form(client, {"readings": file(), "trial": trial}).status_code == 200
    (batch,) = desk.batches
    assert (batch.body, batch.media_type, batch.trial) == (CSV, "text/csv", TRIAL)


def test_a_form_without_trial_takes_it_from_the_query(client, desk):
    assert form(client, {"readings": file()}, "?unit=dB").status_code == 200
    assert desk.batches[0].trial == {"meter": {"unit": "dB"}}


def test_a_form_with_trial_refuses_it_in_the_query(client):
    answer = form(client, {"readings": file(), "trial": json.dumps(TRIAL)}, "?unit=dB&not_scanned=x")
    assert [place["parameter"] for place in answer.json["errors"]] == ["unit"]


@pytest.mark.parametrize(
    ("name", "given", "read_as"),
    [
        ("r.csv", "application/vnd.ms-excel", "text/csv"),
        ("R.CSV", "application/octet-stream", "text/csv"),
        ("r.tsv", "text/plain", "text/tab-separated-values"),
        ("r", "text/csv; charset=UTF-8", "text/csv"),
    ],
)
def test_the_ending_tells_where_a_browser_does_not(client, desk, *, name, given, read_as):
    assert form(client, {"readings": file(CSV, name, given)}, "?unit=dB").status_code == 200
    assert desk.batches[0].media_type == read_as


@pytest.mark.parametrize(
    ("parts", "named"),
    [
        ({"trial": "{}"}, "readings"),
        ({"readings": "a,b"}, "readings"),
        ({"readings": file(), "plan": "{}"}, "plan"),
        ({"readings": [file(), file()]}, "readings"),
        ({"readings": file(), "trial": ["{}", "{}"]}, "trial"),
    ],
    ids=["no file", "text instead of a file", "unknown part", "two files", "two trials"],
)
def test_parts_that_are_missing_unknown_or_repeated_are_named(client, desk, parts, named):
    answer = form(client, parts)
    assert answer.status_code == 422
    assert named in {place["parameter"] for place in answer.json["errors"]}
    assert desk.batches == []


@pytest.mark.parametrize("trial", ['{"meter":', '{"a": 1, "a": 2}', '{"margin": NaN}', "[]", "[" * 100_000])
def test_a_trial_that_is_no_strict_json_object_is_a_400(client, trial):
    client.application.config["MAX_CONTENT_LENGTH"] = 2**20
    answer = form(client, {"readings": file(), "trial": trial})
    assert (answer.status_code, answer.content_type) == (400, "application/problem+json")
    assert "body" not in answer.json["detail"]


@pytest.mark.parametrize("media_type", ["text/plain", "application/xml", "", "text/csv; charset=utf-7"])
def test_another_media_type_is_a_415_with_what_is_read(client, media_type):
    answer = client.post(PATH, data=b"x", content_type=media_type)
    assert (answer.status_code, answer.content_type) == (415, "application/problem+json")
    assert answer.headers["Accept-Post"].split(", ") == [
        "application/json",
        "text/csv",
        "text/tab-separated-values",
        "application/x-ndjson",
        "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        "multipart/form-data",
    ]


def test_a_file_of_another_kind_in_a_form_is_a_415(client):
    assert form(client, {"readings": file(b"PK", "r.ods", "application/zip")}).status_code == 415


def chunked(client, body: bytes, media_type: str):
    """The body without an announced length, as a chunked request reaches the application."""
    return client.post(
        PATH + "?unit=dB",
        input_stream=io.BytesIO(body),
        content_type=media_type,
        environ_overrides={"wsgi.input_terminated": True},
        headers={"Transfer-Encoding": "chunked"},
    )


def test_a_body_at_the_limit_is_read_and_one_byte_more_is_a_413(client, desk):
    assert client.post(PATH, data=b" " * 1000, content_type="application/json").status_code == 200
    answer = client.post(PATH, data=b" " * 1001, content_type="application/json")
    assert (answer.status_code, answer.content_type) == (413, "application/problem+json")
    assert "1000 bytes" in answer.json["detail"]
    assert len(desk.batches) == 1


def test_a_chunked_body_over_the_limit_is_refused_and_never_cut(client, desk):
    assert chunked(client, b" " * 999, "text/csv").status_code == 200
    assert len(desk.batches[0].body) == 999
    assert chunked(client, b" " * 1001, "text/csv").status_code == 413
    assert len(desk.batches) == 1


def test_a_chunked_form_over_the_limit_is_refused(client, desk):
    head = b'--x\r\nContent-Disposition: form-data; name="readings"; filename="r.csv"\r\n'
    body = head + b"Content-Type: text/csv\r\n\r\n" + b"a" * 2000 + b"\r\n--x--\r\n"
    assert chunked(client, body, "multipart/form-data; boundary=x").status_code == 413
    assert desk.batches == []


def test_a_form_field_over_its_limit_is_a_413(client):
    client.application.config["MAX_CONTENT_LENGTH"] = 2**22
    body = (
        b'--x\r\nContent-Disposition: form-data; name="trial"\r\n\r\n' + b" " * (2**20 + 1) + b"\r\n--x--\r\n"
    )
    answer = client.post(PATH, data=body, content_type="multipart/form-data; boundary=x")
    assert (answer.status_code, answer.content_type) == (413, "application/problem+json")
