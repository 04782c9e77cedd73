"""Fields of forms as finished strings, and numbers as people type them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from reports.language import say

Values = Mapping[str, str]
"""What a form sent: the text of each field by its name."""
SELECTED = ("selected",)
OPENED = ("open",)
"""Words of attributes that are there or not."""


@dataclass(frozen=True)
class Input:
    """A field of one line; `kind` is the input's type, `mode` the keyboard a phone shows for it.

    faults: what is wrong with what was sent; `mark` is then "at-fault" and `invalid` "true".
    """

    name: str
    label: str
    hint: str
    value: str = ""
    kind: str = "text"
    mode: str = "text"
    faults: tuple[str, ...] = ()
    mark: str = "sound"
    invalid: str = "false"


@dataclass(frozen=True)
class Option:
    """One entry of a choice; `selected` holds one word where it is the chosen one, else nothing."""

    value: str
    text: str
    selected: tuple[str, ...] = ()


@dataclass(frozen=True)
class Choice:
    """A field that is chosen from a list."""

    name: str
    label: str
    hint: str
    options: tuple[Option, ...]
    faults: tuple[str, ...] = ()
    mark: str = "sound"
    invalid: str = "false"


@dataclass(frozen=True)
class Button:
    """A button that sends a form with a value of its own."""

    value: str
    text: str


@dataclass(frozen=True)
class Hidden:
    """A value that a form carries along."""

    name: str
    value: str


def number_input(name: str, label: str, hint: str = "") -> Input:
    """A field for a number; typed text, so that a decimal comma is taken too."""
    return Input(name, label, hint, mode="decimal")


def choice(name: str, label: str, entries: Sequence[tuple[str, str]], *, hint: str = "") -> Choice:
    """A field with these (value, text); the first is chosen until a form says otherwise."""
    return Choice(name, label, hint, tuple(Option(value, text) for value, text in entries))


def said_input(field: Input) -> Input:
    """A field that is a constant, its marked words in the spoken language."""
    return replace(field, label=say(field.label), hint=_said(field.hint))


def said_choice(field: Choice) -> Choice:
    """A choice that is a constant, its marked words in the spoken language."""
    options = tuple(replace(option, text=say(option.text)) for option in field.options)
    return replace(field, label=say(field.label), hint=_said(field.hint), options=options)


def _said(hint: str) -> str:
    """The hint in the spoken language; of no text a catalogue would give what it says of itself."""
    return say(hint) if hint else ""


def filled(field: Input, values: Values, faults: Mapping[str, Sequence[str]]) -> Input:
    """The field with what was sent for it and what is wrong with that."""
    given = replace(field, value=values.get(field.name, field.value))
    told = tuple(faults.get(field.name, ()))
    return replace(given, faults=told, mark="at-fault", invalid="true") if told else given


def chosen(field: Choice, values: Values, faults: Mapping[str, Sequence[str]]) -> Choice:
    """The choice as it was sent."""
    value = values.get(field.name, "")
    options = tuple(
        replace(option, selected=SELECTED if option.value == value else ()) for option in field.options
    )
    told = tuple(faults.get(field.name, ()))
    given = replace(field, options=options)
    return replace(given, faults=told, mark="at-fault", invalid="true") if told else given


def number_in(text: str) -> float | int | str:
    """The number that a field holds, a decimal comma taken as one; other text as it is, to be refused."""
    bare = text.strip().replace("\N{MINUS SIGN}", "-")
    if "," in bare and "." not in bare:
        bare = bare.replace(",", ".", 1)
    try:
        return int(bare) if bare.lstrip("+-").isdecimal() else _finite(bare)
    except ValueError:
        return text


def _finite(text: str) -> float:
    """The number of plain digits; ValueError for words (nan, inf), underscores and what is no number."""
    if not text or not set(text) <= set("0123456789.+-eE"):
        raise ValueError(text)
    return float(text)
