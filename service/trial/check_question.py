"""The question of a design check as it is sent: names of one trial, or elements of kept trials."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from service.errors import BadInput, Fault
from service.trial.places import brief, pointer

MOST_DESIGNS = 63
LONGEST_NAME = 200
ONE_SHOT = ("trial", "readings", "baseline", "candidates", "samples")
KEPT = ("baseline", "candidates", "reference", "margin")
OF_KEPT = ("trial", "element")
BY_NAME = ("name",)


@dataclass(frozen=True)
class Named:
    """A design as it was named: the ids of its samples, its kept trial (None: of the body), its place.

    `kept_as` is the name of a baseline that is kept; what it stands for is filled in when it is looked up.
    """

    samples: tuple[str, ...]
    place: str
    trial: str | None = None
    kept_as: str | None = None


@dataclass(frozen=True)
class Names:
    """What a check is asked of; `reference` and `margin` only where trials are kept.

    `kept_as` tells name, date and note of a baseline that was looked up by its name.
    """

    baseline: Named
    candidates: tuple[Named, ...]
    reference: str | None = None
    margin: float | None = None
    kept_as: Mapping[str, Any] | None = None

    def trials(self) -> tuple[str, ...]:
        """The ids of the kept trials, the baseline's first, each once."""
        ids = [design.trial for design in (self.baseline, *self.candidates) if design.trial is not None]
        return tuple(dict.fromkeys(ids))


def is_kept(content: object) -> bool:
    """Whether a body asks of kept trials."""
    return isinstance(content, Mapping) and isinstance(content.get("baseline"), Mapping)


def names_of_query(
    baseline: str | None, candidates: Sequence[str], samples: Sequence[Sequence[str]]
) -> Names:
    """The names as query parameters give them. Raises BadInput with every fault."""
    faults: list[Fault] = []
    given = [Named((name,), pointer("candidates", place)) for place, name in enumerate(candidates)]
    given += [Named(tuple(names), pointer("samples", place)) for place, names in enumerate(samples)]
    first = _name(baseline, pointer("baseline"), faults)
    faults += [*_counted(given), *_few_samples(given)]
    if faults:
        raise BadInput(faults)
    return Names(Named((first,), pointer("baseline")), tuple(given))


def names_of_body(content: Mapping[str, Any]) -> Names:
    """The names in a one-shot body, whose trial and readings are read elsewhere. Raises BadInput."""
    faults: list[Fault] = []
    baseline = _name(content.get("baseline"), pointer("baseline"), faults)
    given = _designs(content, "candidates", faults) + _designs(content, "samples", faults)
    faults += [*(() if faults else _counted(given)), *_few_samples(given)]
    if faults:
        raise BadInput(faults)
    return Names(Named((baseline,), pointer("baseline")), tuple(given))


def names_of_kept(content: Mapping[str, Any]) -> Names:
    """The elements of kept trials that a body names. Raises BadInput with every fault."""
    faults = list(_unknown(content, KEPT))
    baseline = _kept_baseline(content["baseline"], faults)
    entries = content.get("candidates")
    listed = entries if isinstance(entries, list) else []
    given = [_kept(entry, "candidates", place, faults=faults) for place, entry in enumerate(listed)]
    faults += [*_counted(given), *_few_samples(given)]
    if len(baseline.samples) > 1:
        faults.append(Fault("The baseline is one element.", pointer=pointer("baseline", "element")))
    reference, margin = content.get("reference"), content.get("margin")
    if reference is not None:
        reference = _name(reference, pointer("reference"), faults)
    if margin is not None:
        margin = _margin(margin, faults)
    if faults:
        raise BadInput(faults)
    return Names(baseline, tuple(given), reference, margin)


def _unknown(content: Mapping[str, Any], allowed: Sequence[str], *steps: object) -> Iterator[Fault]:
    for key in content:
        if key not in allowed:
            yield Fault(
                f"This key is not known; there are {', '.join(allowed)}.", pointer=pointer(*steps, key)
            )


def _name(given: object, place: str, faults: list[Fault]) -> str:
    if isinstance(given, str) and 0 < len(given) <= LONGEST_NAME:
        return given
    detail = f"Give the id of one element, a text of 1 to {LONGEST_NAME} characters."
    faults.append(Fault(detail, pointer=place, given=brief(given)))
    return ""


def _designs(content: Mapping[str, Any], key: str, faults: list[Fault]) -> list[Named]:
    """The designs in a list: each an id, or a list of the ids of its samples."""
    entries = content.get(key, [])
    if not isinstance(entries, list):
        detail = f"Give {key} as a list: of ids, or of lists of the ids of the samples of one design."
        faults.append(Fault(detail, pointer=pointer(key), given=brief(entries)))
        return []
    return [_design(entry, (key, place), faults=faults) for place, entry in enumerate(entries)]


def _design(entry: object, steps: tuple[object, ...], *, faults: list[Fault]) -> Named:
    if not isinstance(entry, list):
        return Named((_name(entry, pointer(*steps), faults),), pointer(*steps))
    names = tuple(_name(name, pointer(*steps, place), faults) for place, name in enumerate(entry))
    return Named(names, pointer(*steps))


def _kept(entry: object, *steps: object, faults: list[Fault]) -> Named:
    if not isinstance(entry, Mapping):
        detail = 'Give the kept trial and the element: {"trial": id, "element": id}.'
        faults.append(Fault(detail, pointer=pointer(*steps), given=brief(entry)))
        return Named(("",), pointer(*steps), "")
    faults.extend(_unknown(entry, OF_KEPT, *steps))
    trial = _name(entry.get("trial"), pointer(*steps, "trial"), faults)
    named = _design(entry.get("element"), (*steps, "element"), faults=faults)
    return Named(named.samples, pointer(*steps, "element"), trial)


def _kept_baseline(entry: Mapping[str, Any], faults: list[Fault]) -> Named:
    """By its name, or as an element of a kept trial."""
    if "name" not in entry:
        return _kept(entry, "baseline", faults=faults)
    faults.extend(_unknown(entry, BY_NAME, "baseline"))
    name = _name(entry["name"], pointer("baseline", "name"), faults)
    return Named((), pointer("baseline", "name"), kept_as=name)


def _counted(given: Sequence[Named]) -> Iterator[Fault]:
    if not 1 <= len(given) <= MOST_DESIGNS:
        detail = f"Name 1 to {MOST_DESIGNS} candidates."
        yield Fault(detail, pointer=pointer("candidates"), given=len(given))


def _few_samples(given: Sequence[Named]) -> Iterator[Fault]:
    for design in given:
        if not design.samples:
            yield Fault("Name at least one sample; three or more tell of a batch.", pointer=design.place)


def _margin(given: object, faults: list[Fault]) -> float:
    is_number = isinstance(given, int | float) and not isinstance(given, bool)
    if isinstance(given, int | float) and is_number and math.isfinite(given) and given > 0:
        return float(given)
    detail = "Give the margin as a number above 0, in meter units."
    faults.append(Fault(detail, pointer=pointer("margin"), given=brief(given)))
    return 0.0
