"""The catalogue of a language, brought up to what reports and pages say now, and compiled.

python -m tests.languages.update de    makes reports/languages/de.po, or updates it, and de.mo out of it
python -m tests.languages.update       does so for each language there is

A translator edits the .po in between; messages that are no longer said are kept at its end, commented out.
"""

import sys
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

from reports.language import CATALOGUES
from tests.languages.collecting import messages


def update(language: str, folder: Path) -> Catalog:
    """The catalogue of the language, as it now stands in the folder. UnknownLocaleError for no language."""
    source = folder / f"{language}.po"
    catalog = Catalog(locale=language, project="Aerial Assay", charset="utf-8")
    if source.exists():
        with source.open("rb") as file:
            catalog = read_po(file, locale=language)
    catalog.update(messages(), no_fuzzy_matching=True)
    folder.mkdir(exist_ok=True)
    with source.open("wb") as file:
        write_po(file, catalog, width=110, sort_output=True)
    with source.with_suffix(".mo").open("wb") as file:
        write_mo(file, catalog)
    return catalog


def main(languages: list[str]) -> None:
    """Update those languages and say how much of each is translated."""
    for language in languages or sorted(path.stem for path in CATALOGUES.glob("*.po")):
        catalog = update(language, CATALOGUES)
        every = [message for message in catalog if message.id]
        done = sum(bool(message.string and all(message.string)) for message in every)
        print(f"{language}: {done} of {len(every)} messages translated")


if __name__ == "__main__":
    main(sys.argv[1:])
