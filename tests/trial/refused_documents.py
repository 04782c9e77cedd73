"""Trial documents with faults, and what is told of them."""

import pytest

from service.errors import BadInput
from service.trial.trial_document import trial_from_document


def bars(**fields):
    """The document of a trial with a meter of ten bars and these fields."""
    return {"meter": {"unit": "bars", "highest": 10}} | fields


def faults_of(document, **options):
    """The faults for which a document is refused, by their places."""
    with pytest.raises(BadInput) as caught:
        trial_from_document(document, **options)
    return {fault.pointer: fault for fault in caught.value.faults}


def fault_at(pointer, document):
    """The one fault of a document, which must be there."""
    faults = faults_of(document)
    assert list(faults) == [pointer]
    return faults[pointer]
