"""What is said stands in the catalogues, with the same names placed, and is said in the spoken language."""

import json
import string
from dataclasses import replace
from gettext import GNUTranslations

import pytest
from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo

from reports import language, locales
from reports.language import say, say_as, say_number
from tests.languages import invented
from tests.languages.collecting import ROOMS, ROOT, messages
from tests.languages.no_sentences import NO_SENTENCES
from tests.languages.unsaid import modules, unsaid
from tests.languages.update import update


def placed(message: str) -> list[str]:
    return sorted({name for _, name, _, _ in string.Formatter().parse(message) if name is not None})


def test_every_message_places_names_and_nothing_else():
    """Not "{}" and not "{0}": a translator must see what comes where."""
    found = [
        text for message in messages() for text in (message.id if message.pluralizable else [message.id])
    ]
    assert len(found) > 1000
    wrong = [text for text in found if not all(name.isidentifier() for name in placed(text))]
    assert wrong == []


def test_no_sentence_stands_outside_the_catalogues():
    """What is listed as no sentence must still be there, so that the list does not outlive it."""
    found = {
        str(path.relative_to(ROOT)): {text for _, text in unsaid(path)}
        for path in modules([ROOT / room for room in ROOMS])
    }
    assert {path: texts for path, texts in found.items() if texts} == NO_SENTENCES


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ('x = f"after {n} rounds"', [(1, "after {} rounds")]),
        ('x = "two words"', [(1, "two words")]),
        ('x = say("two words")', []),
        ('x = say("two words {more}", more="and more words")', [(1, "and more words")]),
        ('"""Two words."""', []),
        ('raise ValueError("two words")', []),
        ('x = f"{a}-{b}"', []),
        ("x = f'{say(\"rod\")}'", [(1, "{}")]),
        ('x = {"two words": "two words"}', [(1, "two words")]),
        ('x = y == "two words"', []),
    ],
)
def test_a_sentence_outside_is_seen(tmp_path, source, found):
    module = tmp_path / "module.py"
    module.write_text(source)
    assert unsaid(module) == found


def written(folder, name, *translated):
    catalog = Catalog(locale=name)
    for message, translation in translated:
        catalog.add(message, translation)
    with (folder / f"{name}.mo").open("wb") as file:
        write_mo(file, catalog)


def test_another_language_orders_what_is_placed_and_has_its_own_plurals(tmp_path, monkeypatch):
    """Reference: Polish takes the second form for 2 to 4, the third for 5 (CLDR, by the library babel)."""
    rounds = ("{n} round", "{n} rounds"), ("{n} runda", "{n} rundy", "{n} rund")
    written(tmp_path, "pl", ("{first} to {last}", "do {last} od {first}"), rounds)
    monkeypatch.setattr(language, "CATALOGUES", tmp_path)
    polish = replace(locales.LOCALES[locales.DEFAULT], language="pl-PL")
    monkeypatch.setattr(locales, "LOCALES", {"pl-PL": polish})
    with locales.speaking("pl-PL"):
        assert say("{first} to {last}", first=1, last=2) == "do 2 od 1"
        said = [say_number("{n} round", "{n} rounds", n, n=n) for n in (0, 1, 1.2, 3, 5)]
        assert said == ["0 rund", "1 runda", "1.2 rundy", "3 rundy", "5 rund"]
        assert say("not in the catalogue") == "not in the catalogue"


def test_an_update_keeps_what_is_translated_and_adds_what_is_new(tmp_path):
    first = update("de", tmp_path)
    assert not any(message.string for message in first if isinstance(message.id, str) and message.id)
    some = next(message.id for message in first if isinstance(message.id, str) and message.id)
    source = tmp_path / "de.po"
    text = source.read_text(encoding="utf-8")
    quoted = f'msgid {json.dumps(some, ensure_ascii=False)}\nmsgstr ""'
    assert quoted in text
    text = text.replace(quoted, quoted.removesuffix('""') + '"auf deutsch"')
    source.write_text(text + '\nmsgid "no longer said"\nmsgstr "alt"\n', encoding="utf-8")
    second = update("de", tmp_path)
    assert second[some].string == "auf deutsch"
    assert "no longer said" not in second
    assert '#~ msgid "no longer said"' in source.read_text(encoding="utf-8")
    with (tmp_path / "de.mo").open("rb") as file:
        assert GNUTranslations(file).gettext(some) == "auf deutsch"


def test_english_is_said_without_a_catalogue():
    assert say("{one} and {other}", one="a", other="{b}") == "a and {b}"
    assert [say_number("one", "{n} many", n, n=n) for n in (0, 1, 1.5, 2)] == [
        "0 many", "one", "1.5 many", "2 many",
    ]  # fmt: skip
    assert say_as("rank", "place") == "place"


def test_the_invented_language_is_spoken_and_english_again_afterwards(known):
    with locales.speaking(known):
        assert say("End of report {report}", report="A") == "Énd óf répórt A"
    assert say("End of report {report}", report="A") == "End of report A"


def test_a_plain_word_is_seen_in_the_invented_language():
    assert invented.plain_words("Thé bést ís rod 3 (dB, 95 %)") == ["rod"]
