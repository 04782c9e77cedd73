"""The invented language, spoken while a test runs."""

import pytest

from reports import charts, language, locales
from tests.languages import invented
from tests.languages.collecting import messages


@pytest.fixture(scope="session")
def catalogue(tmp_path_factory):
    """A folder that holds the catalogue of the invented language, and nothing else."""
    folder = tmp_path_factory.mktemp("languages")
    invented.write(messages(), folder)
    return folder


@pytest.fixture
def known(catalogue, monkeypatch):
    """The name of the locale in which the invented language is spoken; it is known while the test runs."""
    monkeypatch.setattr(language, "CATALOGUES", catalogue)
    monkeypatch.setattr(locales, "LOCALES", {**locales.LOCALES, invented.NAME: invented.LOCALE})
    return invented.NAME


@pytest.fixture
def spoken(known):
    """The invented language is spoken while the test runs."""
    with locales.speaking(known):
        yield


@pytest.fixture
def drawn(monkeypatch):
    """The pictures that a page asks for, instead of drawing them."""
    asked = []
    monkeypatch.setattr(charts, "svg", lambda picture, **_how: asked.append(picture) or b"<svg/>")
    return asked
