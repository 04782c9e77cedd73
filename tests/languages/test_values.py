"""What a document holds in English words is known to the reports, so that they can say it."""

import json
from typing import Any

import pytest

from reports.view import amendments, flow, flow_tables, ranking, understood
from reports.view.one_scan import YOURS
from reports.wording import metal_words, reading_remarks
from reports.wording.metal_words import Metal
from service.intake import remarks
from service.radio.conductors import MATERIALS, material
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


def test_the_words_of_a_metal_are_those_of_the_service():
    """A metal whose words change gets another code: kept documents go by the words they were made with."""
    assert set(metal_words.METALS) == {metal.code for metal in MATERIALS}
    for metal in MATERIALS:
        said = metal_words.said(metal.document())
        assert said == Metal(metal.name, metal.source, metal.status, metal.note)


@pytest.mark.usefixtures("spoken")
def test_a_metal_is_said_in_the_language_by_its_code_and_else_as_it_stands():
    brass = material("brass").document()
    assert (metal_words.said(brass).name, metal_words.said(brass).note) == ("bráss", "")
    as_it_stands = Metal(brass["name"], brass["source"], brass["status"], "")
    assert metal_words.said(brass | {"code": "of-tomorrow"}) == as_it_stands
    assert metal_words.said(without_code(brass)) == as_it_stands


SKIPPED = {
    remarks.EMPTY_ROW: "thé rów ís émptý",
    remarks.ABOVE_HEADING: "thé líné stánds ábóvé thé héádíng",
    remarks.SEPARATOR_ROW: "thé líné námés thé sépárátór",
    remarks.BLANK_ROW: "thé rów hás nó réádíng: thé chánnél wás nót scánnéd",
    remarks.BLANK_COLUMN: "thé cólúmn a,{b} hás nó réádíng: thé rún wás nót scánnéd",
    remarks.SUMMED_ROW["sum"]: "thé rów ís thé súm óf thé óthérs",
    remarks.SUMMED_ROW["mean"]: "thé rów ís thé méán óf thé óthérs",
    remarks.SUMMED_COLUMN["sum"]: "thé cólúmn a,{b} ís thé súm óf thé óthérs",
    remarks.SUMMED_COLUMN["mean"]: "thé cólúmn a,{b} ís thé méán óf thé óthérs",
}
TAKEN = [
    (remarks.NOT_READ, {}, None, "nót réád"),
    (remarks.RUN, {"element": "rod {A}", "round": 3}, None, "rod {A}, róúnd 3"),
    (remarks.RUN, {"element": "rod", "round": 1200}, "dB", "rod, róúnd 1200, ín dB"),
    (remarks.COLUMN, {"column": "value"}, "bars", "value, ín bars"),
    (remarks.COLUMN, {"column": "rf_channel"}, None, "rf_channel"),
]


def without_code(entry):
    """The entry as a document without codes holds it."""
    return {name: value for name, value in entry.items() if name not in {"code", "evidence"}}


def test_every_remark_has_its_words_and_the_documents_say_which_there_are():
    rows = SCHEMA["properties"]["read_as"]["properties"]
    codes = {name: set(rows[name]["items"]["properties"]["code"]["enum"]) for name in ("skipped", "columns")}
    assert set(SKIPPED) == set(remarks.SKIPPED) == set(reading_remarks.SKIPPED) == codes["skipped"]
    named = {*reading_remarks.READ_AS, reading_remarks.COLUMN}
    assert {code for code, *_ in TAKEN} == set(remarks.READ_AS) == named == codes["columns"]


@pytest.mark.usefixtures("spoken")
def test_why_a_row_was_skipped_is_said_in_the_language_by_its_code_and_else_as_it_stands():
    for code, spoken_so in SKIPPED.items():
        entry = remarks.skipped(4, code, **({"column": "a,{b}"} if "column" in code else {}))
        assert reading_remarks.skipped(entry) == spoken_so
        assert reading_remarks.skipped(without_code(entry)) == entry["why"]
        assert reading_remarks.skipped(entry | {"code": "of-tomorrow"}) == entry["why"]


@pytest.mark.usefixtures("spoken")
@pytest.mark.parametrize(("code", "evidence", "unit", "spoken_so"), TAKEN)
def test_what_a_heading_was_taken_for_is_said_in_the_language_and_else_as_it_stands(
    code, evidence, unit, spoken_so
):
    entry = remarks.read_as("heading", code, unit=unit, **evidence)
    assert reading_remarks.read_as(entry) == spoken_so
    assert reading_remarks.read_as(without_code(entry)) == entry["read_as"]
    assert reading_remarks.read_as(entry | {"code": "of-tomorrow"}) == entry["read_as"]


def test_remarks_are_said_in_english_as_the_document_has_them():
    for code in remarks.SKIPPED:
        entry = remarks.skipped(4, code, **({"column": "a,{b}"} if "column" in code else {}))
        assert reading_remarks.skipped(entry) == entry["why"]
    for code, evidence, unit, _ in TAKEN:
        entry = remarks.read_as("heading", code, unit=unit, **evidence)
        assert reading_remarks.read_as(entry) == entry["read_as"]
