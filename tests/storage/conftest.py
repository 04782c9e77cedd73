"""One open database of each kind for each module."""

import pytest

from service.storage import open_database


@pytest.fixture(scope="module")
def database(database_url):
    database = open_database(database_url)
    yield database
    database.close()
