"""Requests made from the description: a slice of what is sent by hand (`many_cases`), the same in every run.

Every answer of the whole of the other tests is held against the description too, see `described_answers`.
"""

import pytest

from tests.contracts.described_answers import Described, description
from tests.contracts.many_cases import send

CASES = 500
EACH = 8


@pytest.fixture(scope="module")
def tally(tmp_path_factory):
    return send(CASES, tmp_path_factory.mktemp("cases"), edges=False, each=EACH)


def test_no_answer_is_a_server_error_or_other_than_described(tally, capsys):
    with capsys.disabled():
        print("", *tally.lines(), sep="\n")
    assert tally.wrong == {}
    assert [status for status in tally.statuses if status >= 500 or status == 0] == []


def test_enough_was_sent_to_every_route_and_some_of_it_was_taken(tally):
    assert tally.sent >= CASES
    routes = {
        f"{method.upper()} {path}"
        for path, item in description().document["paths"].items()
        for method in item
        if method != "parameters"
    }
    assert routes - set(tally.routes) <= {"GET /v1/openapi.json"}  # the description itself
    assert {200, 201, 404, 422} <= set(tally.statuses)


class Answer:
    """As much of an answer as is looked at."""

    def __init__(self, status: int, media_type: str, body: bytes, **headers: str):
        self.status_code = status
        self.mimetype = media_type
        every = {
            "Content-Security-Policy": "c",
            "Cross-Origin-Resource-Policy": "same-origin",
            "X-Content-Type-Options": "nosniff",
            "Referrer-Policy": "no-referrer",
            "X-Request-Id": "x",
        }
        self.headers = {**every, **{name.replace("_", "-"): value for name, value in headers.items()}}.items()
        self._body = body

    def get_data(self) -> bytes:
        return self._body


GOOD = b'{"status":"alive"}'


@pytest.mark.parametrize(
    ("answer", "told"),
    [
        (Answer(200, "application/json", GOOD), []),
        (Answer(201, "application/json", GOOD), ["201 is not described"]),
        (Answer(200, "text/html", GOOD), ["the media type 'text/html' is not described"]),
        (Answer(200, "application/json", b"{"), ["no JSON: "]),
        (Answer(200, "application/json", b'{"status":NaN}'), ["no JSON: NaN is no JSON"]),
        (Answer(200, "application/json", b"{}"), ['#: "status" is a required property']),
        (Answer(200, "application/json", b'{"status":"asleep"}'), ["#/status: "]),
        (Answer(200, "application/json", GOOD, X_Other="o"), ["the header X-Other is not described"]),
        (Answer(404, "application/problem+json", b"{}"), ["404 is not described"]),
    ],
)
def test_what_is_not_as_described_is_found(answer, told):
    found = description().faults(("GET", "/healthz"), answer)
    assert len(found) == len(told)
    assert all(fault.startswith(start) for fault, start in zip(found, told, strict=True))


def test_a_route_or_method_that_is_not_described_is_found():
    described = Described(description().document)
    assert described.faults(("PUT", "/healthz"), Answer(200, "application/json", GOOD)) == [
        "PUT /healthz is not described"
    ]
