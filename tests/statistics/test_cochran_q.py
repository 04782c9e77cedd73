"""Cochran's Q against statsmodels, by what may and may not be permuted, and at its edges."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from service.statistics.cochran_q import CochranQ, cochran_q
from service.statistics.random_streams import Purpose
from service.statistics.round_permutations import drawn_share
from service.statistics.sign_test import sign_test

QUICK = settings(max_examples=25, deadline=None, database=None, derandomize=True)
SHAPES = st.tuples(st.integers(2, 5), st.integers(1, 5), st.integers(1, 6))
MARKS = arrays(np.int64, SHAPES, elements=st.integers(0, 1))


def test_two_elements_and_one_channel_make_mcnemars_test():
    received = np.zeros((2, 14, 1))
    received[0, :9] = 1
    received[1, 9:12] = 1
    exact = sign_test([1] * 9 + [-1] * 3).p_value
    error = 4 * np.sqrt(exact * (1 - exact) / 19_999)
    assert cochran_q(received, seed=1).p_value == pytest.approx(exact, abs=error)


@QUICK
@given(MARKS)
def test_channels_that_repeat_each_other_raise_q_and_leave_p_alone(received):
    """Ten copies of a channel are one signal: whole runs are permuted, never single cells."""
    assume((received != received[:1]).any())
    once, tenfold = cochran_q(received, seed=1), cochran_q(np.repeat(received, 10, axis=2), seed=1)
    assert tenfold.statistic == pytest.approx(10 * once.statistic, rel=1e-9, abs=1e-9)
    assert tenfold.p_value == once.p_value


@QUICK
@given(MARKS)
def test_rows_equal_throughout_change_nothing(received):
    always = np.ones_like(received[:, :, :1])
    assert cochran_q(np.concatenate([received, always, 0 * always], axis=2), seed=1) == cochran_q(
        received, seed=1
    )


def test_one_round_can_prove_nothing_however_many_channels():
    received = np.zeros((3, 1, 20))
    received[0] = 1
    assert cochran_q(received, seed=1).p_value == 1.0


def test_a_row_not_scanned_with_every_element_takes_no_part():
    generator = np.random.Generator(np.random.Philox(2))
    received = (generator.random((4, 6, 8)) < 0.5).astype(float)
    with_gaps = np.concatenate([received, np.ones((4, 6, 2))], axis=2)
    with_gaps[1, :, 8:] = np.nan
    assert cochran_q(with_gaps, seed=1) == cochran_q(received, seed=1)


def test_a_round_that_an_element_missed_takes_no_part():
    generator = np.random.Generator(np.random.Philox(2))
    received = (generator.random((4, 6, 8)) < 0.5).astype(float)
    received[2, 5] = np.nan
    assert cochran_q(received, seed=1) == cochran_q(received[:, :5], seed=1)


def test_its_draws_are_those_kept_for_reception():
    received = np.random.Generator(np.random.Philox(2)).random((4, 6, 8)) < 0.5
    counts = received.sum(axis=2)
    shares = {purpose: drawn_share(counts, seed=1, purpose=purpose) for purpose in Purpose}
    assert cochran_q(received, seed=1).p_value == shares[Purpose.RECEPTION]
    assert shares[Purpose.SHUFFLES] != shares[Purpose.RECEPTION]


def test_another_seed_draws_others():
    received = (np.random.Generator(np.random.Philox(2)).random((4, 6, 8)) < 0.5).astype(float)
    first, second = cochran_q(received, seed=1), cochran_q(received, seed=2)
    assert first.statistic == second.statistic
    assert first.p_value != second.p_value


def test_where_all_receive_alike_nothing_speaks_against_chance():
    received = np.zeros((3, 4, 5))
    received[:, :, :2] = 1
    assert cochran_q(received, seed=1) == CochranQ(None, 1.0, "exact")


@pytest.mark.parametrize(
    "received", [np.ones((1, 3, 4)), np.full((3, 2, 4), np.nan), np.ones((3, 0, 4)), np.ones((3, 2, 0))]
)
def test_nothing_to_compare_gives_nothing(received):
    assert cochran_q(received, seed=1) == CochranQ(None, None, None)


@pytest.mark.parametrize("wrong", [np.ones((3, 4)), np.full((2, 2, 2), 0.5), np.full((2, 2, 2), np.inf)])
def test_other_input_is_refused(wrong):
    with pytest.raises(ValueError, match=r"dimensions given|every value"):
        cochran_q(wrong, seed=1)
