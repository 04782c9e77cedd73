"""Sound trials raise cautions seldom: a slice with fixed seeds of `caution_rates`; spoilt ones raise them."""

import numpy as np
import pytest

from tests.calibration import caution_rates
from tests.calibration.rates import most_allowed

TRIALS = 60  # at the bound of `most_allowed` one raised in a quarter of sound trials is seen 95 times in 100
BY_LABEL = {design.label: design for design in caution_rates.designs()}


@pytest.mark.parametrize(
    "label",
    [
        "normal, 4 elements, 6 rounds",
        "coarse meter, 3 elements, 6 rounds",
        "heavy-tailed, 3 elements, 6 rounds",
        "quiet coarse meter, 3 elements, 6 rounds",
        "twin and pad, 4 elements, 6 rounds",
    ],
)
def test_sound_trials_raise_each_caution_at_most_once_in_twenty(label):
    counts = caution_rates.raised(BY_LABEL[label], TRIALS, 7)
    most = most_allowed(caution_rates.PROMISE, TRIALS)
    assert {code: n for code, n in zip(caution_rates.CODES, counts, strict=True) if n > most} == {}


SPOILERS = {
    "drift": lambda levels, _: levels + np.arange(levels.shape[1])[:, None],
    "reference-step": lambda levels, _: levels + _bump(levels, np.s_[0, 6:], 8.0),
    "unequal-noise": lambda levels, stream: (
        levels + _bump(levels, np.s_[1], 4.0 * stream.normal(size=(12, 1)))
    ),
    "odd-run": lambda levels, _: levels + _bump(levels, np.s_[1, 2], 10.0),
    "odd-channel-round": lambda levels, _: levels + _bump(levels, np.s_[:, 2, 1], 10.0),
    "depends-on-channels": lambda levels, _: (
        levels + _bump(levels, np.s_[0], 2.0 + 5.0 * (-1.0) ** np.arange(levels.shape[2]))
    ),
    "bands-disagree": lambda levels, _: (
        levels + _bump(levels, np.s_[0, :, :3], 4.0) + _bump(levels, np.s_[0, :, 3:], -4.0)
    ),
    "identical-runs": lambda levels, _: levels[:, [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 2]],
    "twin-differs": lambda levels, _: levels + _bump(levels, np.s_[-2], 3.0),
    "pad-not-seen": lambda levels, _: levels + _bump(levels, np.s_[-1], 3.0),
}


def _bump(levels, where, by):
    bump = np.zeros_like(levels)
    bump[where] += by
    return bump


@pytest.mark.parametrize("code", SPOILERS)
def test_spoilt_trials_raise_it(code, monkeypatch):
    """The same simulation with something wrong in it: rates near 0 are not those of a finder never asked."""
    sound = caution_rates._levels
    monkeypatch.setattr(
        caution_rates, "_levels", lambda design, stream: SPOILERS[code](sound(design, stream), stream)
    )
    monkeypatch.setattr(caution_rates, "_lost", lambda _, shape: np.zeros(shape, dtype=bool))
    counts = caution_rates.raised(BY_LABEL["twin and pad, 4 elements, 12 rounds"], 6, 7)
    assert counts[caution_rates.CODES.index(code)] >= 5


def test_the_table_marks_what_is_raised_too_often():
    design = BY_LABEL["normal, 4 elements, 6 rounds"]
    last = caution_rates.table({design: [20, *[0] * (len(caution_rates.CODES) - 1)]}, 100).splitlines()[-1]
    assert "| 20.0! |" in last
    assert last.count(" 0.0 |") == len(caution_rates.CODES) - 1


def test_the_committed_table_marks_nothing():
    """Of as many sound trials as it says, each caution is raised by one in twenty at most."""
    kept = caution_rates.TABLE.read_text(encoding="utf-8")
    rows = [line for line in kept.splitlines() if line.endswith("|")][2:]
    assert [line.split("|")[1].strip() for line in rows] == list(BY_LABEL)
    assert all(line.count("|") == len(caution_rates.CODES) + 2 for line in rows)
    assert "!" not in "".join(rows)
