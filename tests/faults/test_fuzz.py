"""A slice of what is fed to every parser by hand (`fuzz`), the same bodies in every run."""

import re

import pytest

from tests.faults import parsers as parsers_module
from tests.faults.fuzz import Came, an_archive, fed
from tests.faults.parsers import Parser, parsers

BODIES = 120
UNCLOSED = "ignore:Unclosed file <tempfile.SpooledTemporaryFile:ResourceWarning"
"""The framework's parser of forms leaves what it had begun to the interpreter where a form is broken."""
TABLES = {"csv", "ndjson", "xlsx"}
PARTLY_READ = {"tsv", "form"}
"""Made of the tables in a plain way: those with decimal commas, or of another meter, are spoilt by it."""
NAMES = [parser.name for parser in parsers()] + ["archive"]


@pytest.fixture(scope="module")
def every(tmp_path_factory):
    return {parser.name: parser for parser in parsers((an_archive(tmp_path_factory.mktemp("archive")),))}


@pytest.mark.parametrize("name", [name for name in NAMES if name not in TABLES | PARTLY_READ])
def test_every_good_body_is_read(every, name):
    assert [read(every[name], seed) for seed in every[name].seeds] == ["read"] * len(every[name].seeds)


@pytest.mark.parametrize("name", sorted(TABLES))
def test_every_good_table_is_read_by_a_meter(every, name, monkeypatch):
    for seed in every[name].seeds:
        found = []
        for meter in parsers_module.METERS:
            monkeypatch.setattr(parsers_module, "METERS", (meter,))
            found.append(read(every[name], seed))
            monkeypatch.undo()
        assert set(found) <= {"read", "refused"}
        assert "read" in found, seed[:200]


@pytest.mark.parametrize("name", sorted(PARTLY_READ))
def test_some_of_what_is_made_of_tables_is_read(every, name):
    assert {read(every[name], seed) for seed in every[name].seeds} == {"read", "refused"}


def read(parser: Parser, body: bytes) -> str:
    """What comes of a body: read, refused, or the error."""
    came = Came(parser.name)
    came.take(parser, body)
    return next(iter(came.errors), "read" if came.read else "refused")


@pytest.mark.filterwarnings(UNCLOSED)
@pytest.mark.parametrize("name", NAMES)
def test_what_is_spoilt_is_read_or_refused_and_never_a_server_error(every, name):
    came = fed(every[name], BODIES)
    assert came.errors == {}
    assert (came.bodies, came.read + came.refused) == (BODIES, BODIES)
    assert came.refused > 0
    assert came.read > 0


def test_a_parser_that_breaks_is_found():
    def breaks(body: bytes) -> None:
        if b"9" in body:
            raise KeyError("nine")

    came = fed(Parser("breaks", breaks, (b"1,2,3,4,5\n",)), 200)
    (found,) = came.errors
    assert re.fullmatch(r"KeyError at test_fuzz\.py:\d+ breaks: 'nine'", found)
    assert came.wrong()
