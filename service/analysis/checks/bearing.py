"""Which cautions of a trial bear on a question that is asked of some of its elements."""

from collections.abc import Iterator, Mapping
from typing import Any

ABOUT_THE_VERDICT = frozenset(
    {
        "one-round",
        "few-rounds",
        "unitless-total",
        "depends-on-channels",
        "bands-disagree",
        "one-rf-channel-decides",
        "rests-on-known-repeatability",
        "margin-below-repeatability",
        "outcome-hangs-on-strike",
    }
)
"""Cautions that speak of the trial's own verdict or of what stands beside it, not of what checks rest on."""
SAFETY = "safety"  # the same for every trial, so that once is enough
_NAMES = frozenset({"element", "elements", "first", "second", "twin", "of", "pad"})
_LISTS = frozenset({"runs", "pairs", "others", "missing"})


def bears(entry: Mapping[str, Any], judged: set[str]) -> bool:
    """Whether a caution names one of the elements judged, or none at all."""
    named = set(_named(entry["evidence"]))
    return not named or bool(named & judged)


def _named(evidence: object) -> Iterator[str]:
    """The ids of elements that the evidence of a caution names."""
    entries = evidence.items() if isinstance(evidence, Mapping) else ()
    for key, value in entries:
        if key in _NAMES | _LISTS:
            yield from _ids(value, names=key in _NAMES)


def _ids(value: object, *, names: bool) -> Iterator[str]:
    if isinstance(value, str) and names:
        yield value
    elif isinstance(value, list | tuple):
        for one in value:
            yield from _ids(one, names=names)
    else:
        yield from _named(value)
