"""The figures that cautions tell are those of the committed study."""

import math

import pytest

from reports.wording.cautions import measured
from tests.calibration.designs import PROMISE
from tests.calibration.study import committed

COMMITTED = committed()
TOLD = {
    "FIXED_ORDER_OF_TWO": ["drift-of-0.5-sd-a-place-fixed-order-all-equal-2"],
    "FIXED_ORDER_OF_FOUR": ["drift-of-0.5-sd-a-place-fixed-order-all-equal-4"],
    "LOPSIDED_OF_TWO": ["skewed-and-one-three-times-as-noisy-all-equal-2"],
    "LOPSIDED_OF_MORE": [f"skewed-and-one-three-times-as-noisy-all-equal-{n}" for n in (3, 4, 8)],
    "NOISY_WITH_FEWER_RUNS": [
        f"one-three-times-as-noisy-in-every-second-round-all-equal-{n}" for n in (3, 4, 8)
    ],
    "FURTHEST_STRUCK_OF_TWO": ["normal-struck-the-worst-all-equal-2"],
    "FURTHEST_STRUCK_OF_FOUR": ["normal-struck-the-worst-all-equal-4"],
    "STRUCK_TO_SUIT_OF_TWO": ["normal-struck-for-the-outcome-all-equal-2"],
    "STRUCK_TO_SUIT_OF_FOUR": ["normal-struck-for-the-outcome-all-equal-4"],
}


@pytest.mark.parametrize("name", TOLD)
def test_a_caution_tells_the_measured_rate(name):
    """Of 100, rounded up, the largest of the designs it speaks of."""
    rates = [COMMITTED[key].false_calls / COMMITTED[key].trials for key in TOLD[name]]
    assert getattr(measured, name) == math.ceil(100 * max(rates))


def test_every_figure_is_held():
    figures = {name for name in vars(measured) if name.isupper()}
    assert figures == {*TOLD, "PROMISED"}
    assert measured.PROMISED == 100 * PROMISE


def test_a_random_order_keeps_the_promise_that_a_fixed_one_breaks():
    for size in (2, 3, 4):
        found = COMMITTED[f"drift-of-0.5-sd-a-place-random-order-all-equal-{size}"]
        assert found.false_calls <= PROMISE * found.trials
