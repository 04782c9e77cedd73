"""HTTP to an application in this process and to a URL."""

import socket

import httpx
import pytest

from service.client.connection import connect
from service.client.packages import Package
from service.client.trouble import Trouble

TABLE = Package(b"a,b\n", "text/csv")


def test_the_application_in_this_process_is_asked_over_http(service):
    with connect(None, service.create_app) as here:
        assert here.verdict(TABLE, {"unit": "bars"}, form="pdf") == service.body
    (asked,) = service.asked
    assert asked["query"] == {"unit": "bars", "form": "pdf"}
    assert (asked["type"], asked["body"]) == ("text/csv", b"a,b\n")


def test_a_trial_goes_beside_the_table(service):
    with connect(None, service.create_app) as here:
        here.verdict(Package(b"a,b\n", "text/csv", b"{}"), {})
    (asked,) = service.asked
    assert asked["type"] == "multipart/form-data"
    assert asked["parts"] == {"readings": ("text/csv", b"a,b\n"), "trial": ("application/json", b"{}")}


def test_a_problem_is_told_with_its_places(service):
    service.problem(errors=[{"row": 3, "detail": "a number is wanted"}], count=1)
    with connect(None, service.create_app) as here, pytest.raises(Trouble) as caught:
        here.verdict(TABLE, {})
    assert caught.value.lines == ("The input has faults. Mend.", "  line 3: a number is wanted")


def test_the_token_of_the_environment_goes_to_a_url_and_nowhere_else(service, monkeypatch):
    sent = []
    monkeypatch.setattr(
        httpx.Client, "send", lambda _http, request, **_: sent.append(request) or served(request)
    )
    for token in ("aa_" + "7" * 64, ""):
        monkeypatch.setenv("AERIAL_ASSAY_TOKEN", token)
        for server in ("http://assay.example", None):
            with connect(server, service.create_app) as asked:
                asked.verdict(TABLE, {})
    assert [request.headers.get("Authorization") for request in sent] == [
        "Bearer aa_" + "7" * 64,
        None,
        None,
        None,
    ]


def served(request: httpx.Request) -> httpx.Response:
    return httpx.Response(200, request=request, content=b"{}")


def test_an_answer_that_is_none_of_ours_is_told(service):
    service.status, service.media_type, service.body = 502, "text/html", b"<h1>proxy</h1>"
    with (
        connect(None, service.create_app) as here,
        pytest.raises(Trouble, match="not this service: status 502"),
    ):
        here.verdict(TABLE, {})


@pytest.mark.parametrize("url", ["http://127.0.0.1:{free}", "nonsense", "ftp://127.0.0.1", "http://[::1"])
def test_no_service_there_is_told(service, url):
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        url = url.replace("{free}", str(free.getsockname()[1]))
        with (
            pytest.raises(Trouble, match=r"[Nn]o service|not a URL"),
            connect(url, service.create_app) as there,
        ):
            there.verdict(TABLE, {})
    assert service.asked == []
