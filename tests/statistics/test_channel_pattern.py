"""Whether a difference changes from channel to channel: not by rounds or rounding."""

import numpy as np
import pytest

from service.statistics.channel_pattern import channel_pattern


def drawn(rounds, channels, *, seed=1, pattern=0.0):
    rng = np.random.default_rng(seed)
    return rng.normal(size=(rounds, channels)) + rng.normal(size=(rounds, 1)) + pattern * np.arange(channels)


def test_rounds_and_their_common_shift_do_not_matter():
    given = drawn(5, 4, pattern=0.5)
    shifted = given + 100.0 * np.arange(5)[:, None]
    assert channel_pattern(shifted, floor=0.0) == pytest.approx(channel_pattern(given, floor=0.0), rel=1e-6)


def test_a_pattern_that_rounding_may_have_made_is_none():
    """A quiet meter with steps of 1 shows the same pattern in every round."""
    given = np.tile([0.0, 1.0, 0.0, 1.0], (8, 1))
    assert channel_pattern(given, floor=1.0 / 6.0) > 0.05
    assert channel_pattern(given, floor=0.0) == 0.0
    assert channel_pattern(np.tile([0.0, 4.0, 0.0, 4.0], (8, 1)), floor=1.0 / 6.0) < 1e-4


def test_the_floor_counts_once_where_the_noise_is_above_it():
    given = drawn(6, 4, pattern=0.5)
    assert channel_pattern(given, floor=0.01) == channel_pattern(given, floor=0.0)


def test_channels_all_alike_without_any_noise():
    assert channel_pattern(np.full((4, 3), 2.5), floor=0.0) == 1.0
