"""Which texts may stand in a trial."""

import pytest

from service.trial.texts import name_fault, text_fault


@pytest.mark.parametrize(
    "text", ["", " ", "brass 3 mm", "3\u00a0mm", "=1+1", "é", "e\u0301", "\U0001f4e1", "\u0646\u200c\u0645"]
)
def test_a_plain_line_may_stand(text):
    assert text_fault(text, 20) is None


@pytest.mark.parametrize(
    "sign",
    [
        "\n",
        "\r",
        "\t",
        "\0",
        "\x0b",
        "\x85",
        "\u2028",
        "\u2029",
        "\ud800",
        "\x7f",
        "\u202e",
        "\u200b",
        "\ufeff",
    ],
)
def test_line_breaks_and_control_signs_may_not(sign):
    assert "line break" in (text_fault(f"a{sign}b", 20) or "")
    assert name_fault(f"a{sign}b", 20) is not None


def test_a_text_has_a_length():
    assert text_fault("a" * 20, 20) is None
    assert text_fault("a" * 21, 20) == "is 21 characters long; at most 20 are allowed, so shorten it"


@pytest.mark.parametrize(
    ("name", "part"), [("", "empty"), (" ", "empty"), ("a ", "spaces"), ("\u00a0a", "spaces")]
)
def test_a_name_is_not_empty_and_has_no_spaces_around_it(name, part):
    assert part in (name_fault(name, 20) or "")
