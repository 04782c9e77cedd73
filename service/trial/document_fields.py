"""One JSON object of the trial document under check: its fields are read, its faults collected and placed."""

import difflib
import math
from collections.abc import Callable, Mapping, Sequence
from typing import TypeGuard

from service.errors import MOST_FAULTS, Fault
from service.trial.places import LONGEST_GIVEN, brief, pointer
from service.trial.texts import name_fault, text_fault


class Fields:
    """The fields of one JSON object; what cannot be used is put on the shared list of faults.

    A field that is missing, null or faulty reads as None. `path` are the steps of the JSON pointer to the
    object, `longest` the most characters of a text.
    """

    def __init__(
        self, given: Mapping[str, object], path: tuple[object, ...], *, faults: list[Fault], longest: int
    ):
        self._given = given
        self._path = path
        self._faults = faults
        self._longest = longest

    def has(self, name: str) -> bool:
        """Whether the field was given and is not null."""
        return self._given.get(name) is not None

    def is_text(self, name: str) -> bool:
        """Whether the field was given as a text."""
        return isinstance(self._given.get(name), str)

    def fault(self, name: str, detail: str) -> None:
        """Note a fault of the field `name`."""
        place = pointer(*self._path, name)
        self._faults.append(Fault(detail, pointer=place, given=brief(self._given.get(name))))

    def only(self, allowed: Sequence[str]) -> None:
        """Note every field whose name is not among `allowed`; very many of them are one fault."""
        unknown = [name for name in self._given if name not in allowed]
        told = f"Allowed: {', '.join(allowed)}."
        if len(unknown) > MOST_FAULTS:
            detail = f"{len(unknown)} fields of names that are not known here. {told}"
            self._faults.append(Fault(detail, pointer=pointer(*self._path), given="an object"))
            return
        for name in unknown:
            self.fault(name, f"No field of this name is known here.{_meant(name, allowed)} {told}")

    def text(self, name: str) -> str | None:
        """A free text."""
        return self._checked_text(name, text_fault)

    def name(self, name: str, *, required: bool = False) -> str | None:
        """A text that identifies something: not empty, no spaces around it."""
        return self._checked_text(name, name_fault, required=required)

    def names(self, name: str) -> tuple[str, ...] | None:
        """A list of at least one name, none twice; required."""
        values = self._given.get(name)
        if isinstance(values, list | tuple) and values:
            texts = [value for value in values if isinstance(value, str)]
            if len(set(texts)) == len(values) and not any(name_fault(text, self._longest) for text in texts):
                return tuple(texts)
        self.fault(name, "Give a list of names, at least one, each a text in quotes and none twice.")
        return None

    def choice(self, name: str, allowed: Sequence[str], *, required: bool = False) -> str | None:
        """One of a few words."""
        value = self._given.get(name)
        if isinstance(value, str) and value in allowed:
            return value
        if value is not None:
            self.fault(name, f"Give one of {', '.join(allowed)}.{_meant(value, allowed)}")
        elif required:
            self.fault(name, f"This is required: give one of {', '.join(allowed)}.")
        return None

    def number(
        self, name: str, least: float, most: float, *, above: bool = False, required: bool = False
    ) -> float | None:
        """A number from `least` to `most`; with `above` it must be greater than `least`."""
        bounds = f"a number {'above' if above else 'from'} {least:g} {'up ' if above else ''}to {most:g}"
        value = self._checked_number(name, bounds, required=required)
        if value is None or (least <= value <= most and not (above and value == least)):
            return None if value is None else float(value)
        self.fault(name, f"Give {bounds}.")
        return None

    def whole(self, name: str, least: int, most: int, *, required: bool = False) -> int | None:
        """A whole number from `least` to `most`."""
        bounds = f"a whole number from {least} to {most}"
        value = self._checked_number(name, bounds, required=required)
        if value is None or (least <= value <= most and value == int(value)):
            return None if value is None else int(value)
        self.fault(name, f"Give {bounds}.")
        return None

    def numbers(self, name: str, least: float, most: float, *, longest: int) -> tuple[float, ...] | None:
        """A list of at least one number from `least` to `most`, and of no more than `longest`."""
        values = self._given.get(name)
        if isinstance(values, list | tuple) and 0 < len(values) <= longest:
            found = [float(value) for value in values if _is_number(value) and least <= value <= most]
            if len(found) == len(values):
                return tuple(found)
        self.fault(name, f"Give a list of 1 to {longest} numbers, each from {least:g} to {most:g}.")
        return None

    def share(self, name: str, least: float, most: float) -> float | None:
        """A share from `least` to `most`; a percentage is answered with the share that it stands for."""
        bounds = f"a share from {least:.2f} to {most:.2f}"
        value = self._checked_number(name, bounds, required=False)
        if value is None or least <= value <= most:
            return None if value is None else float(value)
        remedy = f" Write {value / 100:g} for {value:g} %." if 100 * least <= value <= 100 * most else ""
        self.fault(name, f"Give {bounds}.{remedy}")
        return None

    def nested(self, name: str, allowed: Sequence[str]) -> "Fields | None":
        """A nested object with no field beyond `allowed`."""
        value = self._given.get(name)
        if value is None:
            return None
        fields = self._nested(value, (name,), allowed)
        return fields if isinstance(value, Mapping) else None

    def list_of(self, name: str, allowed: Sequence[str], *, most: int) -> list["Fields"]:
        """A list of nested objects, each with no field beyond `allowed`.

        Entries that are none are noted and read as empty, so that places in the list stay; beyond `most`,
        which is noted, nothing is read.
        """
        values = self._given.get(name)
        if values is not None and not isinstance(values, list | tuple):
            self.fault(name, f"Give a list of objects with the fields {', '.join(allowed)}.")
        if not isinstance(values, list | tuple):
            return []
        if len(values) > most:
            told = f"{len(values)} {name}; at most {most} are taken in one trial."
            self.fault(name, f"{told} Split it into smaller trials.")
        return [self._nested(value, (name, index), allowed) for index, value in enumerate(values[:most])]

    def _nested(self, value: object, steps: tuple[object, ...], allowed: Sequence[str]) -> "Fields":
        path = (*self._path, *steps)
        if not isinstance(value, Mapping):
            detail = f"Give an object with the fields {', '.join(allowed)}."
            self._faults.append(Fault(detail, pointer=pointer(*path), given=brief(value)))
            return Fields({}, path, faults=[], longest=self._longest)
        nested = Fields(value, path, faults=self._faults, longest=self._longest)
        nested.only(allowed)
        return nested

    def _checked_text(
        self, name: str, reason_of: Callable[[str, int], str | None], *, required: bool = False
    ) -> str | None:
        value = self._given.get(name)
        if not isinstance(value, str):
            if value is not None:
                self.fault(name, "Give a text in quotes.")
            elif required:
                self.fault(name, "This is required: give a text in quotes.")
            return None
        reason = reason_of(value, self._longest)
        if reason is not None:
            self.fault(name, f"The text {reason}.")
        return value if reason is None else None

    def _checked_number(self, name: str, bounds: str, *, required: bool) -> int | float | None:
        value = self._given.get(name)
        if _is_number(value):
            return value
        if value is not None:
            self.fault(name, f"Give {bounds}, without quotes.")
        elif required:
            self.fault(name, f"This is required: give {bounds}.")
        return None


def _is_number(value: object) -> TypeGuard[int | float]:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return False
    return isinstance(value, int) or math.isfinite(value)


def _meant(given: object, allowed: Sequence[str]) -> str:
    """ " Did you mean ...?" with the allowed words nearest to what was given, or nothing."""
    if not isinstance(given, str) or len(given) > LONGEST_GIVEN:
        return ""
    folded = {word.lower(): word for word in allowed}
    close = difflib.get_close_matches(given.lower(), list(folded), n=3)
    return f" Did you mean {' or '.join(folded[word] for word in close)}?" if close else ""
