"""What the description tells of the webhook is what is sent."""

import json

import pytest
from jsonschema import Draft202012Validator, ValidationError

from service.api.webhook_description import NOTICE, WEBHOOKS
from service.jobs.message_signature import signed_headers
from service.jobs.notices import notice
from service.jobs.retrying import MOST_TRIES
from service.jobs.targets import Target
from service.storage.analysis_rows import KeptAnalysis

HELD = KeptAnalysis(
    "a" * 32, "b" * 32, "owner", 1, 1, "done", None, "", None, None, None, None, None, False
)  # fmt: skip
DOCUMENT = {"verdict": {"outcome": "clear winner", "statement": "Rød > wire <b>", "winner": "rod"}}


@pytest.fixture
def sent() -> dict[str, str]:
    return json.loads(notice("c" * 32, HELD, DOCUMENT))


def test_a_notice_fits_its_schema(sent):
    Draft202012Validator.check_schema(NOTICE)
    Draft202012Validator(NOTICE).validate(sent)
    assert sent.keys() == NOTICE["properties"].keys()
    assert sent["statement"] == DOCUMENT["verdict"]["statement"]


@pytest.mark.parametrize("wrong", [{"owner": "o"}, {"outcome": "holds"}, {"delivery": "C" * 32}])
def test_the_schema_refuses_what_is_never_sent(sent, wrong):
    with pytest.raises(ValidationError):
        Draft202012Validator(NOTICE).validate(sent | wrong)


def test_the_headers_that_are_told_are_sent():
    told = {each["name"] for each in WEBHOOKS["verdict"]["post"]["parameters"]}
    target = Target.of("https://hooks.example/")
    headers = signed_headers(target, b"{}", secret="s" * 32, created=1, nonce="n")
    assert headers.keys() - {"Host", "Content-Type"} == told


def test_the_tries_that_are_told_are_made(client):
    described = client.get("/v1/openapi.json").json["webhooks"]["verdict"]["post"]["description"]
    assert MOST_TRIES == 9
    assert "nine times over about an hour" in described
