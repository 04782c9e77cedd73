"""What an export quotes, reading takes off again."""

from hypothesis import given
from hypothesis import strategies as st

from service.intake.spreadsheet_text import quoted_text, unquoted_text
from tests.intake.made_batches import batch, json_batch


@given(st.text(st.sampled_from("'=+-@\t\r\0ab 1"), max_size=6))
def test_what_was_quoted_comes_back(text):
    assert unquoted_text(quoted_text(text)) == text


def test_what_could_be_a_formula_is_quoted_and_nothing_else():
    for text in ("=1+1", "+x", "-x", "@x", "\tx", "\rx", "\0x", "'=x"):
        assert quoted_text(text) == f"'{text}"
    for text in ("", "x", "1-2", "'x", "a=b", "'"):
        assert quoted_text(text) == text


def test_tables_take_the_apostrophe_off_and_json_does_not():
    assert set(batch("channel,'=rod\n'-x,7")[1].frame["element"]) == {"=rod"}
    _, readings = json_batch([{"element": "'=rod", "channel": "x", "value": 7}])
    assert set(readings.frame["element"]) == {"'=rod"}
