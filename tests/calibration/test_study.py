"""Every design of the study within its promise: hours, so by hand or nightly (`pytest -m calibration`)."""

import zlib

import pytest

from tests.calibration.designs import designs
from tests.calibration.rates import most_allowed, rates, rule

TRIALS = 1_000
PROMISED = [design for design in designs() if design.promise is not None]


@pytest.mark.calibration
@pytest.mark.parametrize("design", PROMISED, ids=[design.key for design in PROMISED])
def test_errors_stay_within_the_promise(design):
    scores, means = design.draw(TRIALS, zlib.crc32(design.key.encode()))
    found = rates(scores, means, rule(**design.rule))
    most = most_allowed(design.promise, TRIALS)
    assert found.false_calls <= most
    assert found.false_winners <= most
    assert found.false_within <= most
