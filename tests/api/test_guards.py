"""Hosts, origins, encodings, and the headers that every answer carries."""

import pytest


def post(client, **headers):
    return client.post("/v1/verdicts", json={}, headers={k.replace("_", "-"): v for k, v in headers.items()})


@pytest.mark.parametrize("host", ["localhost", "LOCALHOST:8080", "127.0.0.1:9", "[::1]:8080", "[::1]"])
def test_our_own_names_are_answered(client, host):
    assert client.get("/healthz", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize(
    "host", ["rebound.example", "localhost.rebound.example", "10.0.0.1:8080", "[::2]", "a b"]
)
def test_another_host_name_is_refused_before_any_route(client, desk, host):
    for answer in (
        client.get("/healthz", headers={"Host": host}),
        client.get("/nope", headers={"Host": host}),
        post(client, Host=host),
    ):
        assert (answer.status_code, answer.content_type) == (400, "application/problem+json")
    assert desk.batches == []


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://other.example"},
        {"Origin": "http://localhost:9999"},
        {"Origin": "null"},
        {"Sec_Fetch_Site": "cross-site"},
        {"Sec_Fetch_Site": "same-site"},
    ],
)
def test_a_page_of_another_site_cannot_post(client, desk, headers):
    answer = post(client, **headers)
    assert (answer.status_code, answer.content_type) == (403, "application/problem+json")
    assert desk.batches == []


@pytest.mark.parametrize(
    "headers",
    [
        {},
        {"Origin": "http://localhost"},
        {"Origin": "http://localhost", "Sec_Fetch_Site": "same-origin"},
        {"Sec_Fetch_Site": "none"},
    ],
)
def test_programs_and_our_own_pages_can_post(client, headers):
    assert post(client, **headers).status_code == 200


def test_reading_from_another_site_needs_no_check(client):
    assert client.get("/healthz", headers={"Origin": "http://other.example"}).status_code == 200


def test_an_encoded_body_is_refused_with_what_is_read(client):
    answer = post(client, Content_Encoding="gzip")
    assert answer.status_code == 415
    assert "text/csv" in answer.headers["Accept-Post"]
    assert post(client, Content_Encoding="identity").status_code == 200


@pytest.mark.parametrize("path", ["/healthz", "/nope", "/v1/openapi.json"])
def test_every_answer_carries_the_security_headers(client, path):
    headers = client.get(path).headers
    assert headers["Content-Security-Policy"] == "default-src 'none'; frame-ancestors 'none'"
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "no-referrer"
