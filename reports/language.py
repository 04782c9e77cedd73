"""The words of reports and pages, in the language of the locale that is spoken.

English stands where it is used. Any other language is a catalogue in gettext's format beside this module,
`languages/<language>.mo`, made out of the `.po` that a translator works on. What a catalogue lacks stays
English. Names between braces are placed after the translation, so that each language has its own order.
"""

from functools import cache
from gettext import GNUTranslations, NullTranslations
from pathlib import Path

from reports.locales import spoken

CATALOGUES = Path(__file__).parent / "languages"


def say(message: str, /, **placed: object) -> str:
    """The message in the spoken language, with what is placed in it. KeyError for a name not given."""
    return _words().gettext(message).format_map(placed)


def say_number(one: str, many: str, number: float, /, **placed: object) -> str:
    """The form of a message that goes with a number; the number is placed only where it is named.

    English has one form for 1 and another for all else; a catalogue has those of its language.
    """
    whole = int(number) if number == int(number) else max(2, round(number))
    return _words().ngettext(one, many, whole).format_map(placed)


def say_as(meaning: str, message: str, /, **placed: object) -> str:
    """A message that another language has several words for; the meaning tells which one is wanted."""
    return _words().pgettext(meaning, message).format_map(placed)


def marked(message: str) -> str:
    """The message itself, entered in the catalogues: for constants, which are said where they are used."""
    return message


def _words() -> NullTranslations:
    return _catalogue(CATALOGUES, spoken().language)


@cache
def _catalogue(folder: Path, language: str) -> NullTranslations:
    """The catalogue of a language, of its main language where it has none of its own, or none: English."""
    for name in (language, language.partition("-")[0]):
        path = folder / f"{name}.mo"
        if path.exists():
            with path.open("rb") as file:
                return GNUTranslations(file)
    return NullTranslations()
