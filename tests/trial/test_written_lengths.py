"""Lengths of elements in the trial document, as they may be written."""

from service.trial.trial_document import trial_from_document
from tests.trial.refused_documents import bars, fault_at


def test_lengths_may_be_written_with_their_unit_and_come_back_in_millimetres():
    trial = trial_from_document(bars(elements=[{"id": "a", "diameter": "1/8 in", "length": "2 ft 3 in"}]))
    assert (trial.elements[0].diameter_mm, trial.elements[0].length_mm) == (3.175, 685.8)
    (told,) = trial.document()["elements"]
    assert told == {"id": "a", "label": "a", "diameter_mm": 3.175, "length_mm": 685.8}


def test_a_length_that_is_not_clear_is_refused_with_the_remedy():
    fault = fault_at("#/trial/elements/0/length", bars(elements=[{"id": "a", "length": "2 ft 14 in"}]))
    assert "below 12 inches beside feet" in fault.detail
    assert fault.given == "2 ft 14 in"
    twice = {"id": "a", "length": "69 cm", "length_mm": 690}
    assert "not both" in fault_at("#/trial/elements/0/length", bars(elements=[twice])).detail
