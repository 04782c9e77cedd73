"""Values of any size in a trial document are refused at once and told back short."""

from tests.trial.refused_documents import bars, fault_at


def test_a_text_as_long_as_a_book_is_not_compared_with_words():
    detail = fault_at("#/trial/meter/unit", {"meter": {"unit": "dB" * 500_000}}).detail
    assert "Did you mean" not in detail


def test_a_list_nested_deeply_is_no_text():
    deep = []
    for _ in range(50_000):
        deep = [deep]
    assert fault_at("#/trial/title", bars(title=deep)).given == "a list"


def test_what_was_given_is_told_back_short():
    assert fault_at("#/trial/title", bars(title="x" * 300)).given == "x" * 80 + "…"
    assert fault_at("#/trial/title", bars(title=["x"])).given == "a list"
