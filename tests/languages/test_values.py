"""What a document holds in English words is known to the reports, so that they can say it."""

import json
from typing import Any

import pytest

from reports.view import amendments, flow, flow_tables, ranking, understood
from reports.view.one_scan import YOURS
from reports.wording import metal_words
from reports.wording.reading_remarks import REMARKS, said
from service.intake import accounts, summary_lines, wide_cells
from service.radio.conductors import MATERIALS
from tests.languages.collecting import ROOT

SCHEMA = json.loads((ROOT / "openapi" / "analysis-document.schema.json").read_text(encoding="utf-8"))


def values_of(*path: str) -> set[str]:
    """The values that the schema of the document allows in a field."""
    part: Any = SCHEMA["properties"]
    for name in path:
        part = part[name]
    return {value for value in part["enum"] if value is not None}


ROWS = ("items", "properties")


@pytest.mark.parametrize(
    ("known", "path"),
    [
        (ranking.STANDINGS, ("elements", *ROWS, "standing")),
        (understood._ROUNDS_FROM, ("read_as", "properties", "rounds_from")),
        (understood._FORMS, ("read_as", "properties", "shape")),
        (flow._STEP_FROM, ("read_as", "properties", "resolution_from")),
        (flow_tables._WHY, ("read_as", "properties", "left_out", *ROWS, "why")),
        (amendments._KINDS, ("history", "anyOf", 0, "properties", "batches", *ROWS, "kind")),
        (YOURS, ("one_scan", "anyOf", 0, "properties", "of")),
    ],
)
def test_every_value_that_the_schema_allows_has_its_words(known, path):
    assert set(known) == values_of(*path)


def test_all_that_is_told_of_a_metal_is_known():
    told = {
        text for metal in MATERIALS for text in (metal.name, metal.source, metal.status, metal.note) if text
    }
    assert told == metal_words.KNOWN


@pytest.mark.parametrize(
    ("text", "spoken_so"),
    [
        (accounts.EMPTY_ROW, "thé rów ís émptý"),
        (accounts.ABOVE, "thé líné stánds ábóvé thé héádíng"),
        (accounts.SEPARATOR_ROW, "thé líné námés thé sépárátór"),
        (wide_cells.BLANK_ROW, "thé rów hás nó réádíng: thé chánnél wás nót scánnéd"),
        (
            wide_cells.BLANK_COLUMN.format(heading="rod@2"),
            "thé cólúmn rod@2 hás nó réádíng: thé rún wás nót scánnéd",
        ),
        (summary_lines.SUM_ROW.format(kind="sum"), "thé rów ís thé súm óf thé óthérs"),
        (summary_lines.SUM_ROW.format(kind="mean"), "thé rów ís thé méán óf thé óthérs"),
        (summary_lines.SUM_COLUMN.format(name="a,b", kind="sum"), "thé cólúmn a,b ís thé súm óf thé óthérs"),
        (summary_lines.SUM_COLUMN.format(name="S", kind="mean"), "thé cólúmn S ís thé méán óf thé óthérs"),
        ("not read", "nót réád"),
        ("rod {A}, round 3", "rod {A}, róúnd 3"),
        ("rod, round 3, in dB", "rod, róúnd 3, ín dB"),
        ("value, in bars", "value, ín bars"),
        ("rf_channel", "rf_channel"),
    ],
)  # fmt: skip
@pytest.mark.usefixtures("spoken")
def test_what_the_service_remarks_on_a_file_is_said_in_the_language(text, spoken_so):
    assert said(text) == spoken_so


def test_remarks_are_said_in_english_as_they_came():
    assert [said(text) for text in REMARKS] == list(REMARKS)
