"""JSON out never holds NaN or an infinity."""

import json

import pytest
from flask import jsonify

from service.api.strict_json import json_text


@pytest.mark.parametrize("number", [float("nan"), float("inf"), float("-inf")])
def test_what_is_no_json_number_is_refused(app, number):
    with pytest.raises(ValueError, match="JSON compliant"):
        json_text({"a": [number]})
    with app.app_context(), pytest.raises(ValueError, match="JSON compliant"):
        jsonify(a=number)


def test_text_and_order_come_back():
    document = {"b": 'Köpenick \u2028 "x"', "a": [1.5, None, True]}
    text = json_text(document)
    assert json.loads(text) == document
    assert list(json.loads(text)) == ["b", "a"]
