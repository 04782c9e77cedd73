"""The document of a trial reads as the same trial, whatever was left out."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.radio.meters import UNIT_NAMES, unit_rules
from service.trial.trial import COMPARES, FORMS, GAUGE_TABLES, LOOKS, REGIONS
from service.trial.trial_document import trial_from_document

NAMES = st.text(st.characters(categories=("L", "N", "P")), min_size=1, max_size=8)
COSTS = st.fixed_dictionaries({"amount": st.floats(0, 1e6), "currency": st.just("EUR")})
GAUGES = st.fixed_dictionaries(
    {"number": st.integers(0, 60)}, optional={"table": st.sampled_from(GAUGE_TABLES)}
)


def optional(**fields):
    return st.fixed_dictionaries({}, optional=fields)


@st.composite
def meters(draw):
    """A meter of any unit, with as much of its scale as one likes to state."""
    rules = unit_rules(draw(st.sampled_from(UNIT_NAMES)))
    ends = sorted(draw(st.lists(st.floats(rules.least, rules.most), min_size=2, max_size=2, unique=True)))
    scale = {"lowest": ends[0], "highest": ends[1]} if draw(st.booleans()) else {}
    more = draw(optional(impedance_ohm=st.floats(1, 1000)))
    return {"unit": rules.unit} | scale | more


@st.composite
def elements(draw):
    entries = []
    for name in draw(st.lists(NAMES, max_size=4, unique=True)):
        fields = optional(
            label=NAMES, material=NAMES, form=st.sampled_from(FORMS), diameter_mm=st.floats(0.1, 50),
            length_mm=st.floats(1, 5000), gauge=GAUGES, coating=NAMES, condition=NAMES,
            minutes_to_make=st.floats(0, 600),
        )  # fmt: skip
        role = draw(st.sampled_from([{}, {"twin_of": "q"}, {"pad_of": "q", "pad_db": 3.0}]))
        price = draw(st.one_of(st.just({}), optional(cost=COSTS), optional(cost_per_metre=COSTS)))
        entries.append({"id": name} | draw(fields) | role | price)
    return entries


@st.composite
def documents(draw):
    """A trial document without faults."""
    channels = [{"id": name} | draw(optional(rf_channel=NAMES, label=NAMES)) for name in draw(names_once())]
    strikes = [{"element": name, "round": 2, "reason": "wind"} for name in draw(names_once())]
    plan = optional(
        title=NAMES, confidence=st.floats(0.80, 0.99), planned_rounds=st.integers(1, 400),
        looks=st.sampled_from(LOOKS), reference=NAMES, region=st.sampled_from(REGIONS),
        seed=st.integers(0, 2**53 - 1), compares=st.sampled_from(COMPARES), site=NAMES, taken_by=st.just(""),
        minutes_per_run=st.floats(0.5, 100),
    )  # fmt: skip
    lists = {"elements": draw(elements()), "channels": channels, "struck": strikes}
    return {"meter": draw(meters())} | draw(plan) | lists


def names_once():
    return st.lists(NAMES, max_size=3, unique=True)


@settings(max_examples=200, deadline=None)
@given(documents())
def test_the_document_of_a_trial_is_a_fixed_point(document):
    trial = trial_from_document(document)
    written = trial.document()
    again = trial_from_document(json.loads(json.dumps(written, allow_nan=False)))
    assert again.document() == written
    assert (again.elements, again.channels, again.struck) == (trial.elements, trial.channels, trial.struck)


@settings(max_examples=100, deadline=None)
@given(documents())
def test_what_was_given_is_in_the_document(document):
    written = trial_from_document(document).document()
    for name, value in document.items():
        given_entries = value if isinstance(value, list) else [value]
        kept_entries = written[name] if isinstance(value, list) else [written[name]]
        for was, is_now in zip(given_entries, kept_entries, strict=True):
            assert was == ({key: is_now[key] for key in was} if isinstance(was, dict) else is_now)


@pytest.mark.parametrize(
    ("meter", "margin", "resolution"),
    [
        ({"unit": "percent", "highest": 2}, 2.0, 1.0),
        ({"unit": "percent", "highest": 0.5}, 0.5, 0.5),
        ({"unit": "bars", "highest": 0.5}, 0.025, 0.5),
        ({"unit": "dB", "lowest": 20, "highest": 20.5}, 0.5, None),
    ],
)
def test_what_is_usual_is_never_wider_than_the_scale(meter, margin, resolution):
    trial = trial_from_document({"meter": meter})
    assert (trial.margin, trial.meter.resolution) == (margin, resolution)
