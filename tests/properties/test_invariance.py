"""What must not matter to a verdict does not: order, names, a shift of a round, a doubled channel."""

import json
import math

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from service.analysis import analyse
from service.statistics.bell_reference import MemoryStore
from tests.analysis.made_trials import made_trial, noisy_scores, trial_of_rows

STORE = MemoryStore()
FEW = settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow])
METER = {"unit": "dB", "resolution": 0.001}


def analysed(rows, names, **fields):
    made = trial_of_rows(rows, meter=METER, elements=[{"id": name} for name in names], **fields)
    return analyse(made.trial, made.readings, store=STORE)


@st.composite
def trials(draw, elements=(2, 4)):
    """Rows and names of a trial of some elements and rounds, sometimes with runs missing."""
    count, rounds = draw(st.integers(*elements)), draw(st.integers(2, 7))
    means = {f"e{k}": 10 + draw(st.sampled_from([0.0, 0.5, 2.0])) for k in range(count)}
    scores = noisy_scores(means, rounds=rounds, sd=0.3, seed=draw(st.integers(0, 10_000)))
    if draw(st.booleans()):
        scores["e0"][draw(st.integers(0, rounds - 1))] = None
    return made_trial(scores).rows, list(means)


def without_names(document):
    """The document as text with what depends on names and order of input taken out."""
    kept = {name: value for name, value in document.items() if name not in {"provenance", "read_as", "trial"}}
    return json.dumps(kept, sort_keys=True)


@FEW
@given(trials(), st.randoms(use_true_random=False))
def test_the_order_of_rows_does_not_matter(trial, random):
    rows, names = trial
    shuffled = random.sample(rows, len(rows))
    assert json.dumps(analysed(shuffled, names)) == json.dumps(analysed(rows, names))


@FEW
@given(trials())
def test_names_of_elements_do_not_matter(trial):
    rows, names = trial
    renamed = {name: f"zz-{len(names) - place}" for place, name in enumerate(names)}
    other = [row | {"element": renamed[row["element"]]} for row in rows]
    text = without_names(analysed(rows, names))
    for name, new in renamed.items():
        text = text.replace(f'"{name}"', f'"{new}"')
    assert without_names(analysed(other, list(renamed.values()))) == text


@FEW
@given(trials())
def test_names_of_channels_do_not_matter(trial):
    rows, names = trial
    other = [row | {"channel": f"programme of {row['channel']}"} for row in rows]
    one, two = analysed(rows, names), analysed(other, names)
    assert one["pairs"] == two["pairs"]
    assert one["verdict"] == two["verdict"]


@FEW
@given(trials(), st.lists(st.floats(-5, 5, allow_nan=False), min_size=7, max_size=7))
def test_a_constant_added_to_a_round_does_not_matter(trial, shifts):
    rows, names = trial
    other = [row | {"value": row["value"] + shifts[row["round"] - 1]} for row in rows]
    one, two = analysed(rows, names), analysed(other, names)
    assert one["verdict"]["outcome"] == two["verdict"]["outcome"]
    for mine, theirs in zip(one["pairs"], two["pairs"], strict=True):
        assert mine["outcome"] == theirs["outcome"]
        for end in ("low", "high"):
            same_number(end_of(mine, end), end_of(theirs, end))
        same_number(mine["difference"], theirs["difference"])


@FEW
@given(trials())
def test_a_channel_doubled_on_its_rf_channel_does_not_matter(trial):
    rows, names = trial
    twice = [row | {"channel": row["channel"] + " again"} for row in rows if row["channel"] == "s0"]
    one, two = analysed(rows, names), analysed(rows + twice, names)
    assert one["pairs"] == two["pairs"]
    assert [e["score"] for e in one["elements"]] == [e["score"] for e in two["elements"]]


@FEW
@given(trials(elements=(2, 2)))
def test_two_elements_in_the_other_order_give_the_mirror_image(trial):
    rows, names = trial
    one, two = analysed(rows, names), analysed(rows, names[::-1])
    mine, theirs = one["pairs"][0], two["pairs"][0]
    assert (mine["outcome"], mine["winner"], mine["p_value"]) == (
        theirs["outcome"],
        theirs["winner"],
        theirs["p_value"],
    )
    same_number(end_of(mine, "low"), negative(end_of(theirs, "high")))
    same_number(mine["difference"], negative(theirs["difference"]))
    assert one["verdict"]["outcome"] == two["verdict"]["outcome"]


@pytest.mark.parametrize("size", [1, 7, 499])
def test_sizes_of_batches_do_not_matter(monkeypatch, size):
    rows, names = (
        made_trial(noisy_scores({"a": 9, "b": 9.4, "c": 10}, rounds=6, sd=0.3)).rows,
        ["a", "b", "c"],
    )
    whole = analysed(rows, names)
    monkeypatch.setattr("service.statistics.shuffled_maximum._CHUNK", max(size, 40))
    monkeypatch.setattr("service.statistics.bell_reference._READINGS", max(size, 40) * 60)
    made = trial_of_rows(rows, meter=METER, elements=[{"id": name} for name in names])
    assert json.dumps(analyse(made.trial, made.readings, store=MemoryStore())) == json.dumps(whole)


def end_of(pair, end):
    return None if pair["interval"] is None else pair["interval"][end]


def same_number(one, other):
    assert (one is None) == (other is None)
    if one is not None:
        assert math.isclose(one, other, rel_tol=1e-9, abs_tol=1e-9)


def negative(number):
    return None if number is None else -number
