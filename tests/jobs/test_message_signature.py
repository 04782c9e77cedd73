"""Signatures of messages: the published example, and that everything told is under the signature."""

import base64
import re

import pytest

from service.jobs.message_signature import content_digest, hmac_sha256, signature_base, signed_headers
from service.jobs.targets import Target

SECRET = "x" * 32
"""An invented secret."""
SHARED = "uzvJfB4u3N0Jy4T7NZ75MDVcr8zSTInedJtkgcu46YW4XByzNJjxBdtjUkdJPBtbmHhIDi6pcl8jsasjlTMtDQ=="
"""RFC 9421, B.1.5: test-shared-secret, in base64."""
BODY = b'{"hello": "world"}'
"""RFC 9421, B.2: the body of test-request."""


def test_the_published_example_is_signed_as_published():
    """RFC 9421, B.2.5: signing a request using hmac-sha256 (the printed values from memory; they agree)."""
    covered = {
        "date": "Tue, 20 Apr 2021 02:07:55 GMT",
        "@authority": "example.com",
        "content-type": "application/json",
    }
    parameters = '("date" "@authority" "content-type");created=1618884473;keyid="test-shared-secret"'
    base = signature_base(covered, parameters)
    assert base == (
        '"date": Tue, 20 Apr 2021 02:07:55 GMT\n'
        '"@authority": example.com\n'
        '"content-type": application/json\n'
        '"@signature-params": ("date" "@authority" "content-type")'
        ';created=1618884473;keyid="test-shared-secret"'
    )
    assert hmac_sha256(base64.b64decode(SHARED), base) == "pxcQw6G3AjtMBQjwo8XzkZf/bws5LelbaMk5rGIGtE8="


def test_the_published_body_has_the_published_digest():
    """RFC 9530, appendix D (from memory; it agrees)."""
    assert content_digest(BODY) == "sha-256=:X48E9qOokqqrvdts8nOJRJN3OWDUoyWxBf7kbu9DBPE=:"


def signature(*, url="https://hooks.example/a?b=c", body=BODY, **changed):
    stated = {"secret": SECRET, "created": 1_700_000_000, "nonce": "n1", **changed}
    return signed_headers(Target.of(url), body, **stated)["Signature"]


def test_what_is_covered_is_what_is_sent():
    headers = signed_headers(
        Target.of("https://Hooks.example:8443/a/b?c=d"),
        BODY,
        secret=SECRET,
        created=1_700_000_000,
        nonce="n1",
    )
    assert headers["Host"] == "hooks.example:8443"
    assert headers["Content-Digest"] == content_digest(BODY)
    parameters = headers["Signature-Input"].removeprefix("notice=")
    assert parameters == (
        '("@method" "@authority" "@path" "@query" "content-type" "content-digest")'
        ';created=1700000000;expires=1700000300;nonce="n1";alg="hmac-sha256";keyid="aerial-assay"'
    )
    base = "\n".join(
        [
            '"@method": POST',
            '"@authority": hooks.example:8443',
            '"@path": /a/b',
            '"@query": ?c=d',
            '"content-type": application/json',
            f'"content-digest": {content_digest(BODY)}',
            f'"@signature-params": {parameters}',
        ]
    )
    assert headers["Signature"] == f"notice=:{hmac_sha256(SECRET.encode(), base)}:"
    assert re.fullmatch(r"notice=:[A-Za-z0-9+/]{43}=:", headers["Signature"])


@pytest.mark.parametrize(
    "changed",
    [
        {"url": "https://other.example/a?b=c"},
        {"url": "https://hooks.example:444/a?b=c"},
        {"url": "https://hooks.example/A?b=c"},
        {"url": "https://hooks.example/a?b=d"},
        {"body": BODY + b" "},
        {"secret": "y" * 32},
        {"created": 1_700_000_001},
        {"nonce": "n2"},
    ],
)
def test_each_change_changes_the_signature(changed):
    assert signature(**changed) != signature()
    assert signature() == signature()


@pytest.mark.parametrize(
    ("url", "authority", "requested"),
    [
        ("https://hooks.example", "hooks.example", "/"),
        ("https://hooks.example:443/", "hooks.example", "/"),
        ("http://hooks.example:80/a;b?c", "hooks.example", "/a;b?c"),
        ("http://[2001:DB8::1]:8080/a", "[2001:db8::1]:8080", "/a"),
    ],
)
def test_a_target_is_named_as_the_request_names_it(url, authority, requested):
    target = Target.of(url)
    assert (target.authority, target.requested) == (authority, requested)
