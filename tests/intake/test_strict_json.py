"""JSON that would lose something is refused."""

import json

import pytest

from service.errors import BadRequest
from service.intake import strict_json as module
from service.intake.strict_json import strict_json

BIG = [{"element": "a", "value": number} for number in range(4)]


@pytest.fixture(params=[0, 2**20])
def both_ways(request, monkeypatch):
    """Bodies are read as large ones, then as small ones."""
    monkeypatch.setattr(module, "SMALL_BYTES", request.param)


@pytest.mark.usefixtures("both_ways")
@pytest.mark.parametrize(
    "document",
    [
        {"trial": {"a": [1, 2.5, None, True]}, "readings": BIG},
        [],
        {},
        "x",
        [[1], {"a": {}}],
        {"a:": '":'},
        -1e300,
    ],
)
def test_json_is_read(document):
    assert strict_json(json.dumps(document).encode()) == document


@pytest.mark.usefixtures("both_ways")
@pytest.mark.parametrize(
    ("body", "match"),
    [
        (b'{"a": 1, "a": 2}', "'a' stands twice"),
        (b'{"r": [{"v": 1, "w": 1, "v" : 2}]}', "'v' stands twice"),
        (b'{"r": [{"v": 1, "v": 2}, {"x": {"y": 1}}]}', "'v' stands twice"),
        (b'{"r": [[{"v": 1, "v": 2}]]}', "'v' stands twice"),
        (b'{"a": NaN}', "NaN"),
        (b'{"a": [-Infinity]}', "-Infinity"),
        (b'{"a": 1e999}', "too large"),
        (b'{"a": {"b": -1e999}}', "too large"),
        (b'{"a": ' + b"1" * 5000 + b"}", "digits"),
        (b"{", "line 1, column 2"),
        (b'{"a": 1}\n x', "line 2, column 2"),
        (b"", "not JSON"),
        (b"\xff", "UTF-8"),
        (b"[" * 100_000, "too deeply"),
        (b'{"a":' * 100_000, "too deeply"),
    ],
)
def test_what_is_no_json_or_loses_something_is_refused(body, match):
    with pytest.raises(BadRequest, match=match):
        strict_json(body)


def test_whole_numbers_have_at_most_twenty_digits():
    assert strict_json(b"9" * 20) == 10**20 - 1
    with pytest.raises(BadRequest, match="21 digits"):
        strict_json(b"9" * 21)


def test_a_byte_order_mark_is_no_part_of_json():
    assert strict_json(b"\xef\xbb\xbf[1]") == [1]
