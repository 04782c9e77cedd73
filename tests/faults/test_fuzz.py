"""A slice of what is fed to every parser by hand (`fuzz`), the same bodies in every run."""

import re

import pytest

from tests.faults.fuzz import Came, an_archive, fed
from tests.faults.parsers import Parser, parsers

BODIES = 120
UNCLOSED = "ignore:Unclosed file <tempfile.SpooledTemporaryFile:ResourceWarning"
"""The framework's parser of forms leaves what it had begun to the interpreter where a form is broken."""
NAMES = [parser.name for parser in parsers()] + ["archive"]


@pytest.fixture(scope="module")
def every(tmp_path_factory):
    return {parser.name: parser for parser in parsers((an_archive(tmp_path_factory.mktemp("archive")),))}


@pytest.mark.parametrize("name", NAMES)
def test_every_good_body_is_read(every, name):
    for seed in every[name].seeds:
        came = Came(name)
        came.take(every[name], seed)
        assert came.errors == {}
        if name not in {"csv", "tsv", "ndjson", "xlsx", "form"}:  # not every table is of every meter
            assert came.read == 1


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
